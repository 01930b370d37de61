"""What one edit of the plan cures: for a finding the changes that take it away, said in one sentence, or nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from rushlight.findings.cures import _electric, _light, _loom, _plan, _rhythms, _sectors, _warm
from rushlight.model.change import Edit
from rushlight.model.design import Design
from rushlight.model.finding import Finding

Cure = Callable[[Design, Finding], Edit | None]

CURES: dict[str, Cure] = {
    "plan.count-disputed": _plan.count_disputed,
    "plan.lamp-in-keep-out": _plan.lamp_in_keep_out,
    "plan.lamps-too-close": _plan.lamps_too_close,
    "plan.lamp-under-fibre": _plan.lamp_under_fibre,
    "plan.state-dark": _plan.state_dark,
    "plan.like-not-built": _plan.like_not_built,
    "plan.pin-without-effect": _plan.pin_without_effect,
    "plan.rule-light-colour": _plan.rule_light,
    "plan.rule-light-arc": _plan.rule_light,
    "plan.rule-light-extra": _plan.rule_light,
    "plan.rule-light-rhythm": _plan.rule_rhythm,
    "plan.rule-unknown": _plan.rule_unknown,
    "plan.readings-scatter": _plan.odd_reading,
    "plan.strip-off-cut": _plan.strip_whole,
    "plan.strip-too-deep": _plan.strip_nearer,
    "light.too-dim": _light.current,
    "light.brighter-than-wanted": _light.current,
    "light.flash-too-dim": _light.more_current,
    "light.pool-too-dim": _light.more_current,
    "light.current-habit": _light.held_current,
    "light.like-mismatch": _light.held_current,
    "light.window-too-bright": _light.held_current,
    "light.blue-glare": _light.held_current,
    "light.row-uneven": _light.held_fibres,
    "light.diffuser-gap": _light.strip_gap,
    "light.hot-spots": _light.strip_as_tried,
    "light.post-shadow": _light.strip_as_tried,
    "light.windows-differ": _light.windows_as_tried,
    "light.bare-led-seen": _light.opal_sheet,
    "light.coat-order": _light.coats_in_order,
    "light.leak": _light.black_coats,
    "light.bare-wall": _light.black_coats,
    "light.seam-glows": _light.seam_closed,
    "light.post-glows": _light.holes_sealed,
    "light.hole-glows": _light.holes_sealed,
    "light.warm-white": _light.warm_white,
    "light.sector-dark": _sectors.domed,
    "light.windows-lit": _light.windows_lit,
    "light.flash-length": _light.rhythm_length,
    "light.fast-flashing": _light.slow_flashes,
    "light.strobes-apart": _light.strobes_together,
    "light.lamp-wider-than-source": _light.wider_source,
    "light.tails-would-do": _light.tails,
    "light.tint": _light.own_colour,
    "electric.no-supply": _electric.no_supply,
    "electric.supply-low": _electric.more_volts,
    "electric.series-headroom": _electric.more_volts,
    "electric.series-saves": _electric.in_series,
    "electric.drift": _electric.more_volts,
    "electric.parallel-differ": _electric.more_volts,
    "electric.regulator-current": _electric.nearest_regulator,
    "electric.regulator-drops-out": _electric.more_volts,
    "electric.strip-supply": _electric.rated_volts,
    "electric.resistor-fits": _electric.rated_volts,
    "electric.resistor-coarse": _electric.two_resistors,
    "electric.supply-overloaded": _electric.larger_supply,
    "electric.coin-cell": _electric.coin_or_current,
    "electric.run-time": _electric.longer_cells,
    "electric.evening-short": _electric.longer_cells,
    "electric.evening-dims": _electric.longer_cells,
    "electric.nothing-flashes": _rhythms.by_controller,
    "electric.self-timed-rhythm": _rhythms.no_self_timed,
    "plan.rhythm-unused": _rhythms.used_rhythms,
    "light.pwm-slow": _rhythms.faster_pulses,
    "light.pwm-bands": _rhythms.band_free_pulses,
    "electric.supply-bay": _electric.smaller_cells,
    "electric.mixed-cells": _electric.rechargeable,
    "electric.no-recharge": _electric.rechargeable,
    "electric.button-cell": _electric.screwed_hatch,
    "electric.lithium-bay": _electric.unsealed,
    "electric.lithium-charge": _electric.screwed_hatch,
    "electric.mains-adapter": _electric.plug_outside,
    "electric.fuse-blows": _electric.larger_fuse,
    "electric.fuse-over-wire": _electric.smaller_fuse,
    "electric.fuse-clears": _electric.smaller_fuse,
    "electric.led-over-current": _electric.held_values,
    "electric.own-resistor": _electric.held_values,
    "electric.switch-not-at-hand": _electric.bought_switch,
    "electric.wire-over-limit": _electric.over_wire,
    "electric.volt-drop": _electric.thicker_wire,
    "light.pool-foot-off": _light.foot_below,
    "loom.bundle-split": _loom.no_held_bundle,
    "loom.fibres-per-led": _loom.held_tails,
    "loom.book-slack": _loom.slack,
    "loom.moving-slack": _loom.slack,
    "loom.moving-part": _loom.follows,
    "loom.pass-hole": _loom.pass_hole,
    "loom.connector-between": _loom.comes_off,
    "loom.label": _loom.other_name,
    "electric.strip-over-current": _warm.less_current,
    "electric.driver-over-current": _warm.less_current,
    "electric.regulator-over-volts": _warm.other_regulator,
    "electric.regulators-differ": _warm.other_regulator,
    "electric.bank-sleeps": _electric.wall_power,
    "electric.fuse-missing": _electric.own_fuse,
    "electric.controller-pins": _rhythms.by_flasher,
    "electric.controller-could-step": _rhythms.states_by_button,
    "electric.controller-supply": _electric.board_volts,
    "heat.wall-too-warm": _warm.vents,
    "heat.wall-under-strip": _warm.cooler,
    "heat.junction-too-hot": _warm.cooler,
    "heat.fibre-too-warm": _warm.cooler_bundle,
    "heat.resistor-over-rating": _warm.cooler_resistor,
    "heat.regulator-too-hot": _warm.other_regulator,
    "heat.resistor-on-styrene": _electric.held_values,
    "build.bay-reach": _electric.screwed_hatch,
    "build.step-unknown": _plan.log_word,
    "build.seam-block": _light.seam_coat,
    "build.foil-insulate": _light.foil_cover,
}
"""Kinds of findings that one edit may cure. Each is proved by its case: the finding goes, and nothing worse comes."""


OTHERS: dict[str, Callable[[Design, Finding], Iterator[Edit]]] = {
    "light.hot-spots": _light.strip_otherwise,
    "light.post-shadow": _light.strip_otherwise,
    "light.windows-differ": _light.strip_otherwise,
}
"""Kinds of findings that several edits cure; the first of them is the one that is offered."""


def cure_of(design: Design, finding: Finding) -> Edit | None:
    """The one edit that cures a finding.

    Parameters
    ----------
    design : Design
        The design in which it was found.
    finding : Finding
        One of `find(design)`.
    Returns
    -------
    Edit or None
        None where only the modeller can tell, or where it takes work at the bench.
    """
    cure = CURES.get(finding.key)
    return cure(design, finding) if cure else None


def others_of(design: Design, finding: Finding) -> Iterator[Edit]:
    """Every edit that cures a finding, the offered one first, where there are several.

    Parameters
    ----------
    design : Design
        The design in which it was found.
    finding : Finding
        One of `find(design)`.
    Returns
    -------
    iterator of Edit
        Nothing where `cure_of` has all.
    """
    others = OTHERS.get(finding.key)
    return others(design, finding) if others else iter(())
