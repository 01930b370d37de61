"""The current that makes a settled LED as bright as was wanted: more where warmth takes light, less where it gives."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.led import LAW_TEMP_C, forward_fall_v_per_k, voltage_at_current
from rushlight.model.design_loom import Circuit, Emitter
from rushlight.model.design_power import SettledAim
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.optics.emitter import flux_fall_per_k
from rushlight.optics.led_light import LightLaw, light_laws
from rushlight.stages.led_currents import DERATE, least_a
from rushlight.stages.led_heat import (
    COLDEST_C,
    HOTTEST_C,
    MOUNT_SPREAD,
    RATED_C,
    chemistry_of,
    emitter_k_per_w,
)
from rushlight.stages.network import EmitterLaw, emitter_law, has_own_resistor, law_key
from rushlight.stages.pins import held_number
from rushlight.thermal.led_rise import limit_of
from rushlight.timing.character import parse_rhythm

Array = NDArray[np.float64]

ROUNDS = 6
"""Current and junction settle each other so often; a round leaves a tenth of the error or less (0.8 %/K of 10 K)."""

HALVINGS = 12
"""So often the most current that a hot LED bears is halved in on: to a four-thousandth."""


@dataclass(frozen=True, slots=True)
class Settling:
    """An emitter in the air of each state: arrays of one value a state.

    aim_a: the current to aim at [A]; drop_v: forward voltage of its diodes, with what is built in, at that current and
    as warm as it then gets [V]; junction_c [degC]; light_share: its light over that of its data sheet [-]; bound: what
    held the current back.
    """

    aim_a: Array
    drop_v: Array
    junction_c: Array
    light_share: Array
    bound: tuple[str, ...]

    def at(self, emitter: Emitter, state: int) -> SettledAim:
        """What is aimed at in one state."""
        return SettledAim(
            emitter=emitter.name,
            unwarmed_a=emitter.aim_current_a,
            aim_a=float(self.aim_a[state]),
            junction_c=float(self.junction_c[state]),
            light_share=float(self.light_share[state]),
            bound=self.bound[state],
        )


@dataclass(frozen=True, slots=True)
class _Kind:
    """All that tells how an emitter settles, its air aside. Resistances to the air by power in the diodes of all, and
    of all with what is built in [K/W], both with the share of time that it is lit."""

    unwarmed_a: float
    least_a: float
    most_a: float
    law: EmitterLaw
    light: LightLaw
    rated_a: float
    diodes_k_per_w: float
    whole_k_per_w: float
    fall_v_per_k: float
    flux_fall_per_k: float
    bound: str

    def junction_c(self, amps: Array, air_c: Array, mount: float = 1.0) -> Array:
        """Junction that a current warms [degC]: linear in the diodes' voltage, so that it needs no rounds."""
        watts_27 = amps * self._diodes_v(amps)
        by_diodes, by_all = mount * (self.diodes_k_per_w + self.whole_k_per_w), mount * self.whole_k_per_w
        fall = len(self.law.laws) * self.fall_v_per_k * amps * by_diodes
        built_in_w = amps**2 * self.law.built_in_ohm / self.law.branches
        warm = air_c + by_diodes * watts_27 + fall * LAW_TEMP_C + by_all * built_in_w
        return np.clip(warm / (1.0 + fall), COLDEST_C, HOTTEST_C)

    def drop_v(self, amps: Array, junction_c: Array) -> Array:
        """Diodes and what is built in [V]."""
        shift = -len(self.law.laws) * self.fall_v_per_k * (junction_c - LAW_TEMP_C)
        return self._diodes_v(amps) + shift + self.law.built_in_ohm * amps / self.law.branches

    def share(self, junction_c: Array) -> Array:
        """Light over that of the data sheet at the same current [-]."""
        return np.asarray(np.exp(-self.flux_fall_per_k * (junction_c - RATED_C)))

    def makes_up_a(self, share: Array) -> Array:
        """The current at which an LED that keeps this share of its light gives what it would give unwarmed [A]."""
        wanted = self.light.times(self.unwarmed_a / self.rated_a)
        return np.array([self.rated_a * self.light.current_share(wanted / kept) for kept in share])

    def _diodes_v(self, amps: Array) -> Array:
        each = voltage_at_current(self.law.laws[0], amps / self.law.branches)
        return np.asarray(len(self.law.laws) * each)


class Settlings:
    """Every emitter of a loom in its air; like ones in like air are worked out once."""

    def __init__(self, plan: Plan, drawer: Drawer, circuits: tuple[Circuit, ...]) -> None:
        self._plan, self._drawer = plan, drawer
        self._on_share = {circuit.name: parse_rhythm(circuit.rhythm).on_share for circuit in circuits}
        self._keys: dict[str, tuple[object, ...]] = {}
        self._kinds: dict[tuple[object, ...], _Kind] = {}
        self._known: dict[tuple[object, bytes], Settling] = {}

    def of(self, emitter: Emitter, air_c: Array, hot_c: Array) -> Settling:
        """How an emitter settles.

        Parameters
        ----------
        emitter : Emitter
            Its aim is that of an LED as its data sheet has it.
        air_c, hot_c : array
            The air round it in each state, typical and at most [degC].
        Returns
        -------
        Settling
            For each state.
        Notes
        -----
        A held current stays as it is held, the least current of the habit is not raised, and where nothing can be set
        (a pre-wired LED, a strip at its rating) the aim stays. Else light(I) share(T(I)) = light(I_25), I at most
        what the LED's derated rating bears and what leaves the junction under its limit in the hottest air at the worst
        mounting.
        Source
        ------
        Light and warmth: `optics.emitter.junction_factor`; T = T_air + R_th P, as in LED data sheets.
        """
        own = self._keys.get(emitter.name) or self._key(emitter)
        self._keys[emitter.name] = own
        if own not in self._kinds:
            self._kinds[own] = self._kind(emitter)
        at = (own, np.round(np.stack([air_c, hot_c]), 2).tobytes())
        if at not in self._known:
            self._known[at] = _settled(self._kinds[own], air_c, hot_c)
        return self._known[at]

    def fall_v_per_k(self, emitter: Emitter) -> float:
        """Loss of forward voltage of each of its diodes [V/K]."""
        return forward_fall_v_per_k(law_key(self._drawer, emitter)).typical

    def _key(self, emitter: Emitter) -> tuple[object, ...]:
        return (
            emitter.kind,
            emitter.part_row,
            emitter.segments,
            emitter.aim_current_a,
            emitter.spot.part,
            self._on_share[emitter.circuit],
            _held(self._plan, emitter),
        )

    def _kind(self, emitter: Emitter) -> _Kind:
        law, share = emitter_law(self._drawer, emitter), self._on_share[emitter.circuit]
        diodes, whole = emitter_k_per_w(self._plan, self._drawer, emitter)
        low, most = self._bounds_a(emitter)
        return _Kind(
            emitter.aim_current_a,
            low,
            most,
            law,
            light_laws(law_key(self._drawer, emitter)).usual,
            self._rated_a(emitter),
            share * diodes,
            share * whole,
            self.fall_v_per_k(emitter),
            flux_fall_per_k(chemistry_of(self._drawer, emitter)).typical,
            self._bound(emitter, low),
        )

    def _bounds_a(self, emitter: Emitter) -> tuple[float, float]:
        least = least_a(self._drawer)
        if emitter.kind == "strip":
            return least * emitter.segments, emitter.segments * self._drawer.strip(emitter.part_row).segment_ma / 1000
        return least, self._drawer.led(emitter.part_row).max_ma * DERATE / 1000

    def _rated_a(self, emitter: Emitter) -> float:
        if emitter.kind == "strip":
            return emitter.segments * self._drawer.strip(emitter.part_row).segment_ma / 1000
        return self._drawer.led(emitter.part_row).test_ma / 1000

    def _bound(self, emitter: Emitter, least: float) -> str:
        """Why the current stays as it is; nothing where it may be set."""
        if not has_own_resistor(self._drawer, emitter):
            return "built in"
        if _held(self._plan, emitter):
            return "held"
        return "least" if emitter.aim_current_a <= least * (1 + 1e-9) else ""


def _held(plan: Plan, emitter: Emitter) -> bool:
    rows = [row.name for row in plan.rows if any(lamp.startswith(f"{row.name} ") for lamp in emitter.lamps)]
    return held_number(plan, "current_ma", emitter.circuit, *rows, *emitter.lamps, emitter.name) is not None


def _settled(kind: _Kind, air_c: Array, hot_c: Array) -> Settling:
    amps, bound = np.full(air_c.shape, kind.unwarmed_a), [kind.bound] * len(air_c)
    if not kind.bound:
        for _ in range(ROUNDS):
            amps = np.maximum(kind.makes_up_a(kind.share(kind.junction_c(amps, air_c))), kind.least_a)
        most, by = _most_a(kind, amps, hot_c)
        bound = ["" if now <= top else why for now, top, why in zip(amps, most, by, strict=True)]
        amps = np.minimum(amps, most)
    warm = kind.junction_c(amps, air_c)
    return Settling(amps, kind.drop_v(amps, warm), warm, kind.share(warm), tuple(bound))


def _most_a(kind: _Kind, asked_a: Array, hot_c: Array) -> tuple[Array, list[str]]:
    """The most that may be asked for, never less than was aimed at before, and what sets it: rating or junction."""
    most = np.full(asked_a.shape, max(kind.most_a, kind.unwarmed_a))
    limit_c = limit_of("LED junction").stop_c
    wanted = np.minimum(asked_a, most)
    if np.all(kind.junction_c(wanted, hot_c, MOUNT_SPREAD[1]) <= limit_c):
        return most, ["rating"] * len(most)
    low, high = np.minimum(kind.unwarmed_a, wanted), wanted
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        over = kind.junction_c(middle, hot_c, MOUNT_SPREAD[1]) > limit_c
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    hot = kind.junction_c(wanted, hot_c, MOUNT_SPREAD[1]) > limit_c
    return np.where(hot, low, most), ["junction" if one else "rating" for one in hot]
