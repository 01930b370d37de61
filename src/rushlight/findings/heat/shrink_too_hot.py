"""Heat-shrink tube on a bundle that only shrinks at a heat that its fibres do not bear."""

from __future__ import annotations

from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_loom import Bundle
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    hot = [(bundle, heat) for bundle in design.loom.bundles if (heat := _excess(design, bundle)) is not None]
    return (_trouble(design, hot),) if hot else ()


def _excess(design: Design, bundle: Bundle) -> tuple[float, float] | None:
    """Highest recovery temperature of its tubes and what its fibres bear, where that is less."""
    known = {tube.name: tube.recovery_c for tube in design.drawer.tubes}
    recovery = max((known[sleeve.tube] for sleeve in bundle.sleeves if sleeve.tube in known), default=0.0)
    bears = min(design.drawer.fibre(mm).max_temp_c for mm in bundle.fibre_mm)
    return (recovery, bears) if recovery > bears else None


def _trouble(design: Design, hot: list[tuple[Bundle, tuple[float, float]]]) -> Trouble:
    bundle, (recovery, bears) = max(hot, key=lambda pair: pair[1][0] - pair[1][1])
    names = [f"'{row.emitter}'" for row, _ in hot]
    lowest = min((tube.recovery_c for tube in design.drawer.tubes), default=recovery)
    over = f", still {plain(lowest - bears, 2)} over" if lowest > bears else ""
    low = f"take low-heat tube ({plain(lowest, 3)} degC{over}), " if lowest < recovery else ""
    return Trouble(
        item=bundle.emitter, spot=design.loom.emitter(bundle.emitter).spot, number=recovery, limit=bears,
        says=f"The tubes on the bundle{'s' if len(names) > 1 else ''} of {listed(names)} shrink fully at "
             f"{plain(recovery, 3)} degC; the fibre in them bears {plain(bears, 3)} degC"
             f"{_beside(design, bundle, recovery)}.",
        cure=f"Shrink the tube over a rod as thick as the bundle and slide it on, {low}use short passes with the fibre "
             "shielded, or wind tape instead. Never shrink inside the model.",
    )


def _beside(design: Design, bundle: Bundle, recovery: float) -> str:
    """From when the wall beside the bundle bends, where that is less too."""
    wall = design.drawer.wall(design.plan.part(design.loom.emitter(bundle.emitter).spot.part).wall)
    if wall.softens_c >= recovery:
        return ""
    return f", and the {wall.name} beside them bends from {plain(wall.softens_c, 3)} degC"


RULE = Rule(
    key="heat.shrink-too-hot",
    grade=Grade.DOUBTFUL,
    title="Heat shrink hotter than the fibre bears",
    unit="degC",
    why="The heat gun softens PMMA: tails draw thin, curl and lose their light, and styrene beside them sags.",
    cure="Shrink it away from the fibre.",
    source="recovery temperature of the tube and highest temperature of the fibre (drawer, from memory)",
    caution="heat_gun",
    look=_look,
)
