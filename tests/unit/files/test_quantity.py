"""Quantities as people write them."""

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rushlight.files._quantity import NotThat, count_range, dimension, plain_number, quantity, scale, whole_number
from rushlight.model.plan import Plan
from rushlight.model.schema import Kind, keys_of


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        # derived: SI prefixes; the inch is 25.4 mm, the foot 304.8 mm
        ("3", "mm", 3),
        ("3 mm", "mm", 3),
        ("3mm", "mm", 3),
        ("0.3 cm", "mm", 3),
        (" 3  MM ", "mm", 3),
        ("-3.5 mm", "mm", -3.5),
        ("1/8 in", "mm", 3.175),
        ('1 1/2"', "mm", 38.1),
        ("1-1/2 in", "mm", 38.1),
        ("½ in", "mm", 12.7),
        ("1½ in", "mm", 38.1),
        ("-1 1/2 in", "mm", -38.1),
        ("− 3", "mm", None),
        ("−3", "mm", -3),
        (".5 in", "mm", 12.7),
        ("5 ft 6 in", "m", 1.6764),
        ("5' 6\"", "m", 1.6764),
        ("12 m", "mm", 12_000),
        ("250 µm", "mm", 0.25),
        ("12 V", "v", 12),
        ("500 mV", "v", 0.5),
        ("20 mA", "a", 0.02),
        ("0.02 A", "ma", 20),
        ("20 mA", "ma", 20),
        ("2 h", "h", 2),
        ("90 min", "h", 1.5),
        ("1 h 30 min", "h", 1.5),
        ("2 h", "min", 120),
        ("1 d", "h", 24),
        ("94 cd", "cd", 94),
        ("10 mcd", "mcd", 10),
        ("2 cd", "mcd", 2000),
        ("45°", "deg", 45),
        ("45 deg", "deg", 45),
        ("2700 K", "k", 2700),
        ("470 nm", "nm", 470),
        ("100 mm²", "mm2", 100),
        ("1 cm2", "mm2", 100),
        ("12 px", "px", 12),
        ("1e3", "mm", 1000),
        ("1e-2 m", "mm", 10),
    ],
)
def test_quantity(text, unit, value):
    if value is None:
        with pytest.raises(NotThat):
            quantity(text, unit)
    else:
        assert quantity(text, unit) == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("3 V", "a voltage"),
        ("2,5", "comma"),
        ("1,200 mm", "comma"),
        ("nan", "finite"),
        (".NaN", "finite"),
        ("-.inf", "finite"),
        ("1e999", "finite"),
        ("1e999999999", "finite|^$"),
        ("9" * 65, "65 characters"),
        ("1/0 in", "division by 0"),
        ("3 furlong", "furlong"),
        ("", ""),
        ("mm", ""),
        ("3 mm 4", ""),
        ("3 4", ""),
        ("1_000", ""),
        ("0x10", ""),
        ("3 mm mm", ""),
        ("½ ½", ""),
        ("1 ⁄ 2", ""),
    ],
)
def test_no_quantity(text, says):
    with pytest.raises(NotThat) as caught:
        quantity(text, "mm")
    import re

    assert re.search(says, caught.value.found)


def test_a_comma_is_told_what_to_write():
    with pytest.raises(NotThat) as caught:
        quantity("2,5 mm", "mm")
    assert "decimal point" in caught.value.expected


@given(st.floats(-1e6, 1e6, allow_nan=False))
def test_a_number_in_its_own_unit_is_exact(value):
    assert quantity(repr(value), "mm") == value
    assert quantity(f"{value!r} mm", "mm") == value


@given(st.text(max_size=80))
def test_any_text_is_a_finite_number_or_not_that(text):
    for reader in (lambda t: quantity(t, "mm"), plain_number, whole_number, scale, lambda t: count_range(t)[0]):
        with contextlib.suppress(NotThat):
            assert abs(reader(text)) < float("inf")


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("1:72", 72),
        ("1/72", 72),
        ("72", 72),
        ("1 : 96", 96),
        ("1:72.5", 72.5),
        ("2:1", 0.5),
        ("1/8 in to the foot", 96),
        ("4 mm = 1 ft", 76.2),
        ("3.5 mm per foot", 87.0857),  # derived: 304.8 mm over that
    ],
)
def test_scale(text, value):
    assert scale(text) == pytest.approx(value, rel=1e-6)


@pytest.mark.parametrize("text", ["0:1", "1/", "1:", ":72", "one", "1:72:3", "0 mm to the foot", "x" * 100])
def test_no_scale(text):
    with pytest.raises(NotThat):
        scale(text)


def test_counts_and_shares():
    assert (whole_number("8"), plain_number("40 %"), plain_number("0.4")) == (8, 0.4, 0.4)
    assert (count_range("2"), count_range("2-3"), count_range("2 to 3"), count_range("2–3")) == (
        (2, 2),
        (2, 3),
        (2, 3),
        (2, 3),
    )
    for reader, text in (
        (whole_number, "8.5"),
        (whole_number, "8/4"),
        (count_range, "3-2"),
        (count_range, "-1"),
        (count_range, "a"),
    ):
        with pytest.raises(NotThat):
            reader(text)


def kinds(item):
    for field in keys_of(item):
        kind: Kind = field.metadata["kind"]
        yield field.name, kind
        if kind.item:
            yield from kinds(kind.item)


def test_every_unit_of_the_schema_is_known_and_is_what_its_key_says():
    units = {(name, kind.unit) for name, kind in kinds(Plan) if kind.unit}
    assert len(units) > 30
    for name, unit in units:
        assert dimension(unit)
        assert name.endswith(f"_{unit}") or name in ("pixel", "minutes"), name
