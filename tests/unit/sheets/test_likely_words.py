"""Sheets tell the likely range first, the outer one beside it, and what likely means."""

from __future__ import annotations

from bench_entries import PLANS
from designed import designed
from rushlight.sheets.amounts import LIKELY, in_brackets, likely_words
from rushlight.sheets.bundles import tail_light_table
from rushlight.sheets.lamp_list import making_table
from rushlight.sheets.light import intensity_table, leak_table
from rushlight.sheets.windows import strip_table
from rushlight.units import Range

INNER, OUTER = Range(20, 40, 70), Range(15, 40, 90)


def test_words() -> None:
    assert likely_words(INNER, OUTER, "mcd") == "20 to 70 mcd; 15 to 90 mcd at the outside"
    assert likely_words(INNER, Range(20.1, 40, 70.2), "mcd") == "20 to 70 mcd"
    assert in_brackets(INNER, OUTER) == "20 to 70 (15 to 90)"
    assert in_brackets(INNER, INNER, times=0.1) == "2 to 7"


def test_tables_say_both() -> None:
    tails, strips = designed(PLANS["fibre joint"]), designed(PLANS["strip flux"])
    for table in (intensity_table(tails), making_table(tails), tail_light_table(tails), strip_table(strips), leak_table(tails)):
        assert LIKELY in table.caption
    names = [column.key for column in intensity_table(tails).columns]
    row = dict(zip(names, intensity_table(tails).rows[0], strict=True))
    assert row["expected"] != row["outside"] and "(" in str(row["luminance"])
    assert str(row["as_wanted"]).startswith("open: ") and str(row["as_wanted"]).endswith(" times")
    assert "at the outside" in str(strip_table(strips).rows[0][4])
