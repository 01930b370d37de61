"""A tail that was cut so short that no stub is left to trim."""

from __future__ import annotations

from rushlight.findings._as_built import cut_piece
from rushlight.findings._words import capital, plain
from rushlight.findings.build._order import PRACTICE
from rushlight.model.design import Design
from rushlight.model.design_loom import Tail
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    stub = design.drawer.habit("fibre_trim").low or 3.0
    found = []
    for done in design.plan.as_built:
        tail = cut_piece(design, done)
        if isinstance(tail, Tail) and done.length_mm is not None and done.length_mm - tail.length_mm < stub - 1e-6:
            found.append(_trouble(design, tail, done.length_mm, stub))
    return tuple(found)


def _trouble(design: Design, tail: Tail, cut_mm: float, stub_mm: float) -> Trouble:
    short = cut_mm < tail.length_mm
    left = "it does not reach" if short else f"{plain(cut_mm - tail.length_mm)} mm are left to trim"
    return Trouble(
        item=tail.lamp, spot=design.lamp(tail.lamp).spot, number=cut_mm - tail.length_mm, limit=stub_mm,
        grade=Grade.WILL_FAIL if short else None,
        says=capital(f"Tail {tail.name} was cut to {plain(cut_mm, 3)} mm; its way is {plain(tail.length_mm, 3)} mm: "
                     f"{left}, and {plain(stub_mm)} mm are right."),
        cure=f"Cut it anew, {tail.cut_mm:g} mm long.",
    )


RULE = Rule(
    key="build.fibre-stub",
    grade=Grade.DOUBTFUL,
    title="No stub left to trim",
    unit="mm",
    why="The fibre stands proud through all coats and is cut clean at the end; flush before paint, it is painted over.",
    cure="Cut it anew, longer.",
    source=PRACTICE,
    practice="fibre_trim",
    look=_look,
)
