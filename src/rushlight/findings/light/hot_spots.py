"""Windows whose light is seen to be uneven."""

from __future__ import annotations

from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_light import StripLight
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.strips import SMOOTH
from rushlight.tables import row_by


def _look(design: Design) -> tuple[Trouble, ...]:
    strips: dict[str, list[StripLight]] = {}
    for row in design.light.strips:
        if row.contrast >= SMOOTH:
            strips.setdefault(row.strip, []).append(row)
    return tuple(_trouble(design, name, rows) for name, rows in strips.items())


def _trouble(design: Design, name: str, rows: list[StripLight]) -> Trouble:
    worst = max(rows, key=lambda row: row.contrast)
    plainly = worst.contrast >= float(row_by("band_words", "band", "visible")["below_contrast"])
    windows = [f"'{row.opening}'" for row in rows]
    return Trouble(
        item=name, spot=design.lamp(worst.lamp).spot, number=100 * worst.contrast, limit=100 * SMOOTH,
        grade=None if plainly else Grade.COULD_BE_BETTER, cure=_cure(worst),
        says=f"Brightness over {listed(windows)} of '{name}' swings by {plain(100 * worst.contrast)} % at worst; under "
             f"{plain(100 * SMOOTH)} % only a critical eye sees it.",
    )


def _cure(worst: StripLight) -> str:
    """Spots come from the gap; a slope comes from a strip that ends too soon."""
    if worst.gap_mm >= worst.needed_gap_mm:
        return (f"The gap is wide enough: it is the end of the strip that shows. Let it run {plain(worst.gap_mm)} mm "
                "past the last window, or paint the channel's ends white.")
    return (f"Set the strip back from {plain(worst.gap_mm)} to {plain(worst.needed_gap_mm)} mm, or add a second sheet "
            f"{plain(worst.gap_mm / 2)} mm behind the first.")


RULE = Rule(
    key="light.hot-spots",
    grade=Grade.DOUBTFUL,
    title="Windows unevenly lit",
    unit="%",
    why="The LEDs show as spots, or a window fades to one side: no lit room looks like that.",
    cure="Set the strip further back.",
    source="contrast of the real LEDs behind the sheets (see optics); bands in band_words.csv (project proposal)",
    look=_look,
)
