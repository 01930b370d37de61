"""IEC 60063:2015, Preferred number series for resistors and capacitors.

The values are written out from memory of the standard's tables (they are printed alike in every component
catalogue). Two digits for E6, E12, E24; three for E48, E96. No rounding beyond the standard's own.
"""

from itertools import pairwise

import pytest

from rushlight.electric.resistor import SERIES_TOLERANCE, series_values

# source: IEC 60063 tables, from memory
E6 = "10 15 22 33 47 68"
E12 = "10 12 15 18 22 27 33 39 47 56 68 82"
E24 = "10 11 12 13 15 16 18 20 22 24 27 30 33 36 39 43 47 51 56 62 68 75 82 91"
E48 = (
    "100 105 110 115 121 127 133 140 147 154 162 169 178 187 196 205 215 226 237 249 261 274 287 301 "
    "316 332 348 365 383 402 422 442 464 487 511 536 562 590 619 649 681 715 750 787 825 866 909 953"
)
E96 = (
    "100 102 105 107 110 113 115 118 121 124 127 130 133 137 140 143 147 150 154 158 162 165 169 174 "
    "178 182 187 191 196 200 205 210 215 221 226 232 237 243 249 255 261 267 274 280 287 294 301 309 "
    "316 324 332 340 348 357 365 374 383 392 402 412 422 432 442 453 464 475 487 499 511 523 536 549 "
    "562 576 590 604 619 634 649 665 681 698 715 732 750 768 787 806 825 845 866 887 909 931 953 976"
)


@pytest.mark.parametrize(("steps", "printed"), [(6, E6), (12, E12), (24, E24), (48, E48), (96, E96)])
def test_series_as_printed(steps, printed):
    assert series_values(steps) == tuple(int(value) for value in printed.split())


@pytest.mark.parametrize(("steps", "tolerance"), SERIES_TOLERANCE)
def test_neighbours_leave_no_wide_gap_at_the_series_tolerance(steps, tolerance):
    # derived: a series is laid out so that bands of +-tolerance just meet; rounding leaves gaps under 5 %
    # (the widest lies between 13 and 15 of E24)
    values = [*series_values(steps), 10 * series_values(steps)[0]]
    gaps = [high * (1 - tolerance) / (low * (1 + tolerance)) for low, high in pairwise(values)]
    assert max(gaps) < 1.05
