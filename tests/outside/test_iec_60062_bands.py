"""IEC 60062:2016, Marking codes for resistors and capacitors: colour bands.

Rows are everyday resistors whose bands are printed alike in every component catalogue (from memory).
"""

import pytest

from rushlight.electric.resistor import colour_bands, value_of_bands

# source: IEC 60062 colour code, catalogue examples, from memory
ROWS = [
    (1.0, 0.05, "brown black gold gold"),
    (4.7, 0.05, "yellow violet gold gold"),
    (10.0, 0.05, "brown black black gold"),
    (68.0, 0.05, "blue grey black gold"),
    (150.0, 0.05, "brown green brown gold"),
    (220.0, 0.05, "red red brown gold"),
    (330.0, 0.10, "orange orange brown silver"),
    (470.0, 0.05, "yellow violet brown gold"),
    (560.0, 0.05, "green blue brown gold"),
    (1000.0, 0.05, "brown black red gold"),
    (4700.0, 0.05, "yellow violet red gold"),
    (10000.0, 0.05, "brown black orange gold"),
    (1e6, 0.05, "brown black green gold"),
    (0.22, 0.05, "red red silver gold"),
    (100.0, 0.01, "brown black black black brown"),
    (249.0, 0.01, "red yellow white black brown"),
    (470.0, 0.01, "yellow violet black black brown"),
    (1000.0, 0.01, "brown black black brown brown"),
    (49900.0, 0.01, "yellow white white red brown"),
    (120000.0, 0.02, "brown red black orange red"),
    (10000.0, 0.001, "brown black black red violet"),
]


@pytest.mark.parametrize(("ohm", "tolerance", "bands"), ROWS)
def test_bands_both_ways(ohm, tolerance, bands):
    colours = tuple(bands.split())
    assert colour_bands(ohm, tolerance, bands=len(colours)) == colours
    assert value_of_bands(colours) == (pytest.approx(ohm, rel=1e-12), tolerance)
