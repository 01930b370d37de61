"""Heat-shrink tube still to be shrunk in the model, at a heat at which the wall it lies on bends."""

from __future__ import annotations

from rushlight.findings._as_built import log, place_of_first
from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.drawer import WallPart
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot


def _look(design: Design) -> tuple[Trouble, ...]:
    if not _shrunk_inside(design):
        return ()
    known = {tube.name: tube.recovery_c for tube in design.drawer.tubes}
    hot = []
    for over, sleeve in design.loom.tubes:
        spot = _spot(design, over)
        wall = design.drawer.wall(design.plan.part(spot.part).wall)
        if known.get(sleeve.tube, 0.0) > wall.softens_c:
            hot.append((over, spot, known[sleeve.tube], wall))
    return (_trouble(design, hot),) if hot else ()


def _shrunk_inside(design: Design) -> bool:
    """Whether the log has LEDs in the model before its tubes were shrunk: the build order has it the other way."""
    entries = log(design)
    shrunk, fitted = place_of_first(entries, "shrink"), place_of_first(entries, "fit_led")
    return fitted is not None and (shrunk is None or shrunk > fitted)


def _spot(design: Design, over: str) -> Spot:
    """Where the bundle or splice under a tube lies."""
    bundle = next((row for row in design.loom.bundles if row.name == over), None)
    if bundle is not None:
        return design.loom.emitter(bundle.emitter).spot
    return next(splice.spot for splice in design.loom.splices if splice.name == over)


def _trouble(design: Design, hot: list[tuple[str, Spot, float, WallPart]]) -> Trouble:
    over, spot, recovery, wall = max(hot, key=lambda row: row[2] - row[3].softens_c)
    parts = [f"'{part}'" for part in dict.fromkeys(row[1].part for row in hot)]
    names = list(dict.fromkeys(row[0] for row in hot))
    tubes, lie = (f"{len(hot)} tubes", "they lie") if len(hot) > 1 else ("The tube", "it lies")
    return Trouble(
        item=over, spot=spot, number=recovery, limit=wall.softens_c,
        says=f"LEDs are in. {tubes} on {listed(names)} shrink{'' if len(hot) > 1 else 's'} fully at "
             f"{plain(recovery, 3)} degC; the {wall.name} of {listed(parts)} on which {lie} bends from "
             f"{plain(wall.softens_c, 3)} degC.",
        cure="Where the loom still comes out, lay it on the bench, shrink it there, let it cool for a minute and lay "
             f"it back. {_in_the_model(design, wall)}",
    )


def _in_the_model(design: Design, wall: WallPart) -> str:
    """What to do at a joint that can only be closed in the model."""
    lowest = min(tube.recovery_c for tube in design.drawer.tubes)
    over = lowest - wall.softens_c
    low = f"tube that shrinks at {plain(lowest, 3)} degC{f' (still {plain(over, 2)} over)' if over > 0 else ''}"
    return ("What stays in is wound with tape, cold. If it must be tube: "
            f"{low}, lifted off the wall on a strip of wet card, the blower across the wall and never at it, two "
            "seconds at a time.")


RULE = Rule(
    key="heat.shrink-near-wall",
    grade=Grade.DOUBTFUL,
    title="Heat shrink hotter than the wall bears",
    unit="degC",
    why="Tube shrinks above the heat at which styrene bends, and the blower is hotter than the tube: a wall beside it "
        "sags, a clear part warps, in seconds.",
    cure="Take the loom out to shrink it, or wind tape.",
    source="recovery temperature of the tube (from memory); lowest published deflection temperature of the wall's "
           "plastic (ISO 75), polystyrene 70 to 90 degC by data sheets",
    caution="heat_gun",
    look=_look,
)
