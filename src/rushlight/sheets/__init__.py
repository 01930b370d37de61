"""Sheets: every drawing and table of the book, from a design.

Modules that draw are loaded when they are asked for, so that other readers of this package start quickly.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rushlight.model.design import Design
    from rushlight.model.finding import Finding
    from rushlight.model.sheet import Sheet, TitlePage

    Maker = Callable[[Design, tuple[Finding, ...]], tuple[Sheet, ...]]


@dataclass(frozen=True, slots=True)
class SheetKind:
    """A kind of sheet: the module that draws it, what it holds, and whether it takes seconds (`late`)."""

    module: str
    holds: str
    late: bool = False

    def draw(self, design: Design, findings: tuple[Finding, ...]) -> tuple[Sheet, ...]:
        """The sheets of this kind; none where the design has nothing for it."""
        from importlib import import_module

        made = import_module(f"rushlight.sheets.{self.module}")
        sheets: tuple[Sheet, ...] = made.draw(design, findings) if self.module == "findings" else made.draw(design)
        return sheets


SHEETS: tuple[SheetKind, ...] = (
    SheetKind("subject", "facts, states, what is assumed and how to measure it, how to use the book"),
    SheetKind("findings", "what would go wrong, the worst first, each with its cure"),
    SheetKind("dark", "a picture of each state in the dark"),
    SheetKind("standing", "each state in the dark as the model stands, seen from one side"),
    SheetKind("seen_from", "which lamps are seen from eight bearings, with candela on the subject"),
    SheetKind("lamp_list", "every lamp with its source, hole, drill, intensity, states; the evidence for it"),
    SheetKind("parts", "a sheet for each part: lamps and fibres, leads and splices, holes, LEDs"),
    SheetKind("templates", "drilling templates at true size, and the inner side to lay the loom by"),
    SheetKind("bundles", "bundles in section with their tubes"),
    SheetKind("circuit", "the circuit drawing"),
    SheetKind("cut_list", "leads, fibre tails, splices, tubes"),
    SheetKind("power", "resistors, supply, fuse, switch, run times"),
    SheetKind("supplies", "other supplies worked out whole: light, run time, room, weight, price, changes", late=True),
    SheetKind("controller", "what makes the rhythms: channels, wiring, the controller's program"),
    SheetKind("gates", "predicted readings as a form"),
    SheetKind("by_eye", "where a fault is, told without a meter: what is seen, the places, what is left"),
    SheetKind("order", "the build order, sitting by sitting, with cautions"),
    SheetKind("shopping", "what to buy"),
    SheetKind("light", "intensities, strips, leaks, heat"),
    SheetKind("filming", "which exposure shows what, bands of dimmed lamps, flashes on a film"),
)
"""Kinds of sheets in book order."""


def draw(design: Design, findings: tuple[Finding, ...], *, late: bool = False) -> tuple[Sheet, ...]:
    """The sheets of the book.

    Parameters
    ----------
    design : Design
        Whole.
    findings : tuple of Finding
        What would go wrong, as `find` returns it.
    late : bool
        True for the whole book: with the kinds that take some seconds.
    Returns
    -------
    tuple of Sheet
        In book order; no two have one key.
    """
    return _each_key_once(tuple(sheet for kind in SHEETS if late or not kind.late
                                for sheet in kind.draw(design, findings)))


def _each_key_once(sheets: tuple[Sheet, ...]) -> tuple[Sheet, ...]:
    """Sheets of parts whose names differ only by letters that a file name cannot hold get a number."""
    from dataclasses import replace

    taken: set[str] = set()
    found = []
    for sheet in sheets:
        key, number = sheet.key, 1
        while key in taken:
            number += 1
            key = f"{sheet.key[:70]}-{number}"
        taken.add(key)
        found.append(replace(sheet, key=key))
    return tuple(found)


def title_page(design: Design, findings: tuple[Finding, ...]) -> TitlePage:
    """The first page: what is lit, a few facts, the first state in the dark, what the book is not for."""
    from rushlight.model.sheet import TitlePage
    from rushlight.sheets.dark import cover
    from rushlight.sheets.findings import counted
    from rushlight.sheets.order import caution_of
    from rushlight.sheets.subject import facts

    subject = design.plan.subject
    lines = (*facts(design), ("Findings", counted(findings)))
    cautions = tuple(caution_of(key) for key in ("not_real", "visitors"))
    return TitlePage(subject.title, "Lighting book", lines, cover(design), subject.note, cautions)
