"""A strip that is drawn longer or shorter than it can be cut."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.stages.strip_cut import TOLD_MM, OffCut, off_cut_strips, shorter_cut
from rushlight.stages.strip_words import side_words


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(_trouble(design, row) for row in off_cut_strips(design))


def _trouble(design: Design, row: OffCut) -> Trouble:
    longer = row.laid_mm > row.drawn_mm
    return Trouble(
        item=row.strip.name, spot=Spot(row.strip.part, *row.strip.along_mm[-1]), number=row.off_mm, limit=TOLD_MM,
        grade=(Grade.WILL_FAIL if row.over_edge else Grade.DOUBTFUL) if longer else None,
        says=f"'{row.strip.name}' is drawn {plain(row.drawn_mm, 4)} mm long, and '{row.part.name}' is cut every "
             f"{plain(row.part.segment_mm, 4)} mm: {plain(row.laid_mm, 4)} mm are laid{_ends(row, longer)}.",
        cure=_cure(design, row, longer),
    )


def _ends(row: OffCut, longer: bool) -> str:
    end, off = end_words(row), plain(row.off_mm, 3)
    if not longer:
        return f", and {off} mm at its {end} end stay without LEDs"
    over = f", over the edge of '{row.strip.part}' or what stands there" if row.over_edge else ""
    return f", {off} mm past its {end} end{over}"


def end_words(row: OffCut) -> str:
    """Which end of a strip is its last, as one sees it on the drawing."""
    return side_words(*row.strip.along_mm[-2:])


def _cure(design: Design, row: OffCut, longer: bool) -> str:
    there = sorted((mm for mm, fits in row.nearest if fits), key=lambda mm: abs(mm - row.drawn_mm))
    not_there = [f"{plain(mm, 4)} mm" for mm, fits in row.nearest if not fits]
    part = shorter_cut(design.drawer, row) if longer else None
    told = [f"draw it {_length(row, mm)}" if not number else _length(row, mm) for number, mm in enumerate(there)]
    told += [f"take '{part.name}', which is cut every {plain(part.segment_mm, 4)} mm"] if part else []
    told = told or ["light the windows by an LED in the room behind each, or by fibre"]
    lacks = f" ({listed(not_there)} would not fit there)" if not_there else ""
    return f"{capital(', or '.join(told))}{lacks}."


def _length(row: OffCut, mm: float) -> str:
    return f"{plain(mm, 4)} mm long{', as it is laid' if abs(mm - row.laid_mm) < TOLD_MM else ''}"


RULE = Rule(
    key="plan.strip-off-cut",
    grade=Grade.COULD_BE_BETTER,
    title="Strip drawn otherwise than it can be cut",
    unit="mm",
    why="A strip lights only in whole pieces between its cut marks: it comes out shorter or longer than it is drawn.",
    cure="Draw it a whole number of cut lengths long.",
    source="distance of the cut marks, from the drawer; from how much on it is told is a project rule",
    look=_look,
)
