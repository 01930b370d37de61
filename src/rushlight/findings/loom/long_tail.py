"""A tail so long that its length alone costs visible light."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain, spot_of
from rushlight.model.design import Design
from rushlight.model.design_loom import Tail
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.fibre_loss import attenuation_db_per_m


def _look(design: Design) -> tuple[Trouble, ...]:
    limit = design.drawer.habit("tail_loss").high or 1.0
    long: dict[str, list[tuple[float, Tail]]] = {}
    for tail in design.loom.tails:
        nm = design.drawer.led(design.loom.emitter(tail.emitter).part_row).dominant_nm
        loss = tail.cut_mm / 1000 * attenuation_db_per_m(nm).typical
        if loss > limit:
            long.setdefault(design.lamp(tail.lamp).group, []).append((loss, tail))
    return tuple(_trouble(design, group, rows, limit) for group, rows in long.items())


def _trouble(design: Design, group: str, rows: list[tuple[float, Tail]], limit: float) -> Trouble:
    loss, tail = max(rows, key=lambda row: row[0])
    return Trouble(
        item=tail.lamp, spot=spot_of(design, group), number=loss, limit=limit,
        says=capital(f"{listed([row.lamp for _, row in rows])}: up to {plain(tail.cut_mm / 1000)} m of fibre lose "
                     f"{plain(loss)} dB on their length; {plain(limit)} dB is the most."),
    )


RULE = Rule(
    key="loom.long-tail",
    grade=Grade.COULD_BE_BETTER,
    title="Tail too long",
    unit="dB",
    why="Acrylic takes a share of the light with every metre, more in red, and a tail beside a shorter one looks dim.",
    cure="Let an LED sit nearer to these lamps: allow illuminators on the part, or make them by LEDs of their own.",
    source="loss of plastic fibre by colour, from public curves; habit tail_loss",
    look=_look,
)
