"""Findings about light: brightness, evenness, colour, leaks, rhythms."""

from __future__ import annotations

from rushlight.findings.light.bare_led_seen import RULE as BARE_LED_SEEN
from rushlight.findings.light.bare_wall import RULE as BARE_WALL
from rushlight.findings.light.behind_shut_door import RULE as BEHIND_SHUT_DOOR
from rushlight.findings.light.bend_loss import RULE as BEND_LOSS
from rushlight.findings.light.blue_glare import RULE as BLUE_GLARE
from rushlight.findings.light.brighter_than_wanted import RULE as BRIGHTER_THAN_WANTED
from rushlight.findings.light.coat_order import RULE as COAT_ORDER
from rushlight.findings.light.current_habit import RULE as CURRENT_HABIT
from rushlight.findings.light.diffuser_gap import RULE as DIFFUSER_GAP
from rushlight.findings.light.fast_flashing import RULE as FAST_FLASHING
from rushlight.findings.light.first_moment_apart import RULE as FIRST_MOMENT_APART
from rushlight.findings.light.flash_length import RULE as FLASH_LENGTH
from rushlight.findings.light.flash_too_dim import RULE as FLASH_TOO_DIM
from rushlight.findings.light.hole_glows import RULE as HOLE_GLOWS
from rushlight.findings.light.hot_spots import RULE as HOT_SPOTS
from rushlight.findings.light.lamp_wider_than_source import RULE as LAMP_WIDER_THAN_SOURCE
from rushlight.findings.light.leak import RULE as LEAK
from rushlight.findings.light.like_mismatch import RULE as LIKE_MISMATCH
from rushlight.findings.light.opening_glows import RULE as OPENING_GLOWS
from rushlight.findings.light.overlap_band import RULE as OVERLAP_BAND
from rushlight.findings.light.pool_foot_off import RULE as POOL_FOOT_OFF
from rushlight.findings.light.pool_mirror_unknown import RULE as POOL_MIRROR_UNKNOWN
from rushlight.findings.light.pool_shadow import RULE as POOL_SHADOW
from rushlight.findings.light.pool_stand_unknown import RULE as POOL_STAND_UNKNOWN
from rushlight.findings.light.pool_too_dim import RULE as POOL_TOO_DIM
from rushlight.findings.light.pool_uneven import RULE as POOL_UNEVEN
from rushlight.findings.light.post_glows import RULE as POST_GLOWS
from rushlight.findings.light.post_shadow import RULE as POST_SHADOW
from rushlight.findings.light.pwm_bands import RULE as PWM_BANDS
from rushlight.findings.light.pwm_slow import RULE as PWM_SLOW
from rushlight.findings.light.radiance_limit import RULE as RADIANCE_LIMIT
from rushlight.findings.light.rhythms_alike import RULE as RHYTHMS_ALIKE
from rushlight.findings.light.row_uneven import RULE as ROW_UNEVEN
from rushlight.findings.light.seam_glows import RULE as SEAM_GLOWS
from rushlight.findings.light.sector_dark import RULE as SECTOR_DARK
from rushlight.findings.light.sector_spill import RULE as SECTOR_SPILL
from rushlight.findings.light.signal_colour import RULE as SIGNAL_COLOUR
from rushlight.findings.light.state_step import RULE as STATE_STEP
from rushlight.findings.light.strobes_apart import RULE as STROBES_APART
from rushlight.findings.light.tails_would_do import RULE as TAILS_WOULD_DO
from rushlight.findings.light.tint import RULE as TINT
from rushlight.findings.light.too_dim import RULE as TOO_DIM
from rushlight.findings.light.warm_white import RULE as WARM_WHITE
from rushlight.findings.light.warmth_uncovered import RULE as WARMTH_UNCOVERED
from rushlight.findings.light.window_too_bright import RULE as WINDOW_TOO_BRIGHT
from rushlight.findings.light.window_too_dim import RULE as WINDOW_TOO_DIM
from rushlight.findings.light.windows_differ import RULE as WINDOWS_DIFFER
from rushlight.findings.light.windows_lit import RULE as WINDOWS_LIT
from rushlight.model.finding import Rule

RULES: tuple[Rule, ...] = (
    TOO_DIM,
    BRIGHTER_THAN_WANTED,
    FLASH_TOO_DIM,
    POOL_TOO_DIM,
    POOL_UNEVEN,
    POOL_SHADOW,
    POOL_FOOT_OFF,
    POOL_MIRROR_UNKNOWN,
    POOL_STAND_UNKNOWN,
    CURRENT_HABIT,
    ROW_UNEVEN, WINDOWS_DIFFER,
    LIKE_MISMATCH,
    FIRST_MOMENT_APART,
    WARMTH_UNCOVERED, STATE_STEP,
    DIFFUSER_GAP,
    HOT_SPOTS,
    WINDOW_TOO_BRIGHT,
    WINDOW_TOO_DIM,
    POST_SHADOW, BEHIND_SHUT_DOOR,
    OVERLAP_BAND,
    BARE_LED_SEEN,
    LAMP_WIDER_THAN_SOURCE, TAILS_WOULD_DO,
    WARM_WHITE,
    TINT,
    SIGNAL_COLOUR,
    LEAK,
    BARE_WALL,
    SEAM_GLOWS,
    POST_GLOWS,
    HOLE_GLOWS,
    OPENING_GLOWS,
    COAT_ORDER,
    BEND_LOSS,
    RADIANCE_LIMIT,
    SECTOR_SPILL,
    SECTOR_DARK,
    FLASH_LENGTH,
    STROBES_APART,
    WINDOWS_LIT,
    RHYTHMS_ALIKE,
    FAST_FLASHING, PWM_SLOW, PWM_BANDS,
    BLUE_GLARE,
)
