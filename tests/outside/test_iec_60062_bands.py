"""IEC 60062:2016, Marking codes for resistors and capacitors: colour bands.

Rows are everyday resistors whose bands are printed alike in every component catalogue (from memory).
"""

import pytest

from rushlight.electric.resistor_bands import colour_bands, letter_code, value_of_bands, value_of_letters
from rushlight.errors import UnknownName

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

COLOURS = ("black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white")
"""Digits 0 to 9 in the standard's order."""

# source: IEC 60062:2016, letters and colours of tolerances in per cent, from memory
TOLERANCES = [("gold", "J", 5), ("silver", "K", 10), ("brown", "F", 1), ("red", "G", 2), ("green", "D", 0.5),
              ("blue", "C", 0.25), ("violet", "B", 0.1), ("orange", "W", 0.05), ("yellow", "P", 0.02),
              ("grey", "L", 0.01)]

# source: IEC 60063, E24, from memory
E24 = [str(value) for value in
       (10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91)]


@pytest.mark.parametrize("digits", E24)
def test_every_e24_value_of_five_per_cent_has_its_digits_as_two_bands(digits):
    for power, third in enumerate(COLOURS[:6]):
        bands = colour_bands(float(digits) * 10**power, 0.05)
        assert bands == (COLOURS[int(digits[0])], COLOURS[int(digits[1])], third, "gold")


@pytest.mark.parametrize("step", range(96))
def test_every_e96_value_of_one_per_cent_has_its_digits_as_three_bands(step):
    digits = str(round(100 * 10 ** (step / 96)))  # source: IEC 60063, E96 is the rounded geometric series
    for power, fourth in enumerate(COLOURS[:5]):
        bands = colour_bands(float(digits) * 10**power, 0.01, bands=5)
        assert bands == (*(COLOURS[int(digit)] for digit in digits), fourth, "brown")


@pytest.mark.parametrize(("colour", "letter", "percent"), TOLERANCES)
def test_tolerances_have_their_colour_and_letter(colour, letter, percent):
    assert colour_bands(470.0, percent / 100, bands=5)[-1] == colour
    assert letter_code(470.0, percent / 100) == f"470R{letter}"


# source: IEC 60062 letter and digit code, the standard's style of examples, from memory
@pytest.mark.parametrize(
    ("ohm", "code"),
    [(0.33, "0R33J"), (1.0, "1RJ"), (3.3, "3R3J"), (33.0, "33RJ"), (330.0, "330RJ"), (332.0, "332RJ"), (1000.0, "1KJ"),
     (3300.0, "3K3J"), (33000.0, "33KJ"), (59040.0, "59K04J"), (1e6, "1MJ"), (3.3e6, "3M3J"), (1e9, "1GJ")],
)
def test_letter_code(ohm, code):
    assert letter_code(ohm, 0.05) == code
    assert value_of_letters(code) == pytest.approx(ohm, rel=1e-12)
    assert value_of_letters(code.removesuffix("J").lower() if "M" not in code and "G" not in code else code) == pytest.approx(ohm)


@pytest.mark.parametrize("text", ["", "R", "470", "4m7", "K", "4K7Q", "4K7K7", "-4K7", "four"])
def test_what_is_no_letter_code_is_refused(text):
    with pytest.raises(UnknownName, match="letter code"):
        value_of_letters(text)
