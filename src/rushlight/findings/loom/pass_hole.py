"""A pass hole too small for what goes through it."""

from __future__ import annotations

from rushlight.findings._words import capital, plain
from rushlight.findings.loom._words import PRACTICE, crossing_spot, runs_through
from rushlight.geometry.circles import first_packing
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan import Crossing


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        trouble for crossing in design.plan.crossings
        if crossing.hole_mm is not None and (trouble := _tight(design, crossing, crossing.hole_mm)) is not None
    )


def _tight(design: Design, crossing: Crossing, hole_mm: float) -> Trouble | None:
    leads, tails = runs_through(design, crossing)
    widths = tuple(design.drawer.wire(lead.wire).outer_mm for lead in leads) + tuple(tail.fibre_mm for tail in tails)
    if not widths:
        return None
    bundle_mm = first_packing(widths).diameter_mm
    share = design.drawer.habit("pass_hole").low or 1.25
    plug_mm = _plug_mm(design, crossing)
    needed = max(share * bundle_mm, plug_mm)
    if hole_mm >= needed - 1e-9:
        return None
    through = f"a plug of {plain(plug_mm)} mm" if plug_mm >= needed else f"a bundle of {plain(bundle_mm)} mm"
    return Trouble(
        item=crossing.name, spot=crossing_spot(crossing), number=hole_mm, limit=needed,
        grade=Grade.WILL_FAIL if hole_mm < bundle_mm else None,
        says=capital(f"{crossing.name}: the hole of {plain(hole_mm)} mm has to pass {through} ({len(leads)} leads, "
                     f"{len(tails)} fibres); {plain(needed)} mm is right."),
        cure=_cure(needed, plug_mm),
    )


def _cure(needed_mm: float, plug_mm: float) -> str:
    other = ", or fit the plug after its leads are through" if plug_mm >= needed_mm else ""
    return f"Drill {plain(needed_mm)} mm and round its edge{other}."


def _plug_mm(design: Design, crossing: Crossing) -> float:
    """Width of the plug that has to go through; 0 for none."""
    plugs = {plug.connector for plug in design.loom.plugs if plug.crossing == crossing.name}
    return max((row.plug_mm for row in design.drawer.connectors if row.name in plugs), default=0.0)


RULE = Rule(
    key="loom.pass-hole",
    grade=Grade.DOUBTFUL,
    title="Pass hole too small",
    unit="mm",
    why="Leads that are forced through a tight hole lose their insulation on its edge.",
    cure="Drill it larger and round its edge.",
    source=PRACTICE + "; the bundle is packed from the leads' and fibres' own diameters",
    practice="pass_hole",
    look=_look,
)
