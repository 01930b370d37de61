"""Findings about what the plan says of the subject: evidence, marks, rules, sizes."""

from __future__ import annotations

from rushlight.findings.plan.count_disputed import RULE as COUNT_DISPUTED
from rushlight.findings.plan.depth_unknown import RULE as DEPTH_UNKNOWN
from rushlight.findings.plan.evidence_contradicted import RULE as EVIDENCE_CONTRADICTED
from rushlight.findings.plan.evidence_other_version import RULE as EVIDENCE_OTHER_VERSION
from rushlight.findings.plan.evidence_weak import RULE as EVIDENCE_WEAK
from rushlight.findings.plan.lamp_in_keep_out import RULE as LAMP_IN_KEEP_OUT
from rushlight.findings.plan.lamp_not_placed import RULE as LAMP_NOT_PLACED
from rushlight.findings.plan.lamp_oversize import RULE as LAMP_OVERSIZE
from rushlight.findings.plan.lamp_under_fibre import RULE as LAMP_UNDER_FIBRE
from rushlight.findings.plan.lamp_without_evidence import RULE as LAMP_WITHOUT_EVIDENCE
from rushlight.findings.plan.lamps_too_close import RULE as LAMPS_TOO_CLOSE
from rushlight.findings.plan.led_read_elsewhere import RULE as LED_READ_ELSEWHERE
from rushlight.findings.plan.led_read_odd import RULE as LED_READ_ODD
from rushlight.findings.plan.like_not_built import RULE as LIKE_NOT_BUILT
from rushlight.findings.plan.mark_colour import RULE as MARK_COLOUR
from rushlight.findings.plan.mark_without_lamp import RULE as MARK_WITHOUT_LAMP
from rushlight.findings.plan.measured_far_off import RULE as MEASURED_FAR_OFF
from rushlight.findings.plan.measured_unused import RULE as MEASURED_UNUSED
from rushlight.findings.plan.opening_lit_twice import RULE as OPENING_LIT_TWICE
from rushlight.findings.plan.opening_unlit import RULE as OPENING_UNLIT
from rushlight.findings.plan.picture_misfit import RULE as PICTURE_MISFIT
from rushlight.findings.plan.picture_not_calibrated import RULE as PICTURE_NOT_CALIBRATED
from rushlight.findings.plan.pin_without_effect import RULE as PIN_WITHOUT_EFFECT
from rushlight.findings.plan.pose_missing import RULE as POSE_MISSING
from rushlight.findings.plan.reading_slip import RULE as READING_SLIP
from rushlight.findings.plan.readings_apart import RULE as READINGS_APART
from rushlight.findings.plan.readings_scatter import RULE as READINGS_SCATTER
from rushlight.findings.plan.rhythm_unused import RULE as RHYTHM_UNUSED
from rushlight.findings.plan.rule_light_arc import RULE as RULE_LIGHT_ARC
from rushlight.findings.plan.rule_light_colour import RULE as RULE_LIGHT_COLOUR
from rushlight.findings.plan.rule_light_extra import RULE as RULE_LIGHT_EXTRA
from rushlight.findings.plan.rule_light_missing import RULE as RULE_LIGHT_MISSING
from rushlight.findings.plan.rule_light_rhythm import RULE as RULE_LIGHT_RHYTHM
from rushlight.findings.plan.rule_light_spacing import RULE as RULE_LIGHT_SPACING
from rushlight.findings.plan.rule_unknown import RULE as RULE_UNKNOWN
from rushlight.findings.plan.state_dark import RULE as STATE_DARK
from rushlight.findings.plan.strip_off_cut import RULE as STRIP_OFF_CUT
from rushlight.findings.plan.strip_too_deep import RULE as STRIP_TOO_DEEP
from rushlight.findings.plan.version_unset import RULE as VERSION_UNSET
from rushlight.model.finding import Rule

RULES: tuple[Rule, ...] = (
    LAMP_WITHOUT_EVIDENCE,
    EVIDENCE_WEAK,
    EVIDENCE_CONTRADICTED,
    EVIDENCE_OTHER_VERSION,
    MARK_WITHOUT_LAMP,
    MARK_COLOUR,
    COUNT_DISPUTED,
    LAMP_NOT_PLACED,
    LAMP_IN_KEEP_OUT,
    LAMPS_TOO_CLOSE,
    RULE_LIGHT_MISSING,
    RULE_LIGHT_EXTRA,
    RULE_LIGHT_COLOUR,
    RULE_LIGHT_ARC,
    RULE_LIGHT_RHYTHM,
    RULE_LIGHT_SPACING,
    RULE_UNKNOWN,
    LAMP_UNDER_FIBRE,
    LAMP_OVERSIZE,
    DEPTH_UNKNOWN,
    OPENING_UNLIT,
    OPENING_LIT_TWICE,
    STATE_DARK,
    PICTURE_NOT_CALIBRATED, PICTURE_MISFIT,
    VERSION_UNSET,
    LIKE_NOT_BUILT,
    PIN_WITHOUT_EFFECT, MEASURED_FAR_OFF, MEASURED_UNUSED, READING_SLIP, READINGS_APART,
    READINGS_SCATTER,
    LED_READ_ODD, LED_READ_ELSEWHERE,
    RHYTHM_UNUSED, POSE_MISSING, STRIP_OFF_CUT, STRIP_TOO_DEEP,
)
