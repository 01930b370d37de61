"""Widths of a table's columns: as few lines as the page's width allows, and every word whole."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from rushlight.book.columns import ColumnText, column_shares, line_count

WORDS = ("a", "fibre", "of", "warm white", "splice", "starboard", "5 V", "the red one", "polished, dry", "mm")


def told(*cells: str, heading: str = "Head", **more: bool) -> ColumnText:
    return ColumnText(heading, "", cells, **more)


def crowded(seed: int, columns: int, rows: int) -> list[ColumnText]:
    rng = np.random.default_rng(seed)
    return [told(*(" ".join(rng.choice(WORDS, rng.integers(1, 4 + 10 * place))) for _ in range(rows)))
            for place in range(columns)]


def height(columns: list[ColumnText], widths: tuple[float, ...]) -> int:
    rows = zip(*((column.heading, *column.cells) for column in columns), strict=True)
    return sum(max(map(line_count, row, widths)) for row in rows)


def test_a_table_that_fits_keeps_its_columns_whole_and_its_wide_ones_take_what_is_left() -> None:
    narrow, wide = told("short"), told("as wide as that", wide=True)
    shares = column_shares([narrow, wide, narrow], 176.0)
    assert shares[0] == shares[2] == 0.0 and shares[1] > 0


@pytest.mark.parametrize("seed", range(6))
def test_as_few_lines_as_the_best_of_all_widths(seed: int) -> None:
    """All widths of three columns on a grid of 3 mm, tried one by one."""
    columns, room = crowded(seed, 3, 8), 100.0
    widths = column_shares(columns, room)
    least = min(height(columns, (a, b, room - a - b)) for a, b in itertools.product(np.arange(15.0, 80.0, 3.0), repeat=2)
                if room - a - b >= 15.0)
    shared = tuple(width or 1000.0 for width in widths)
    assert height(columns, shared) <= 1.1 * least + 1


@pytest.mark.parametrize("seed", range(4))
def test_columns_fill_the_page_and_no_more(seed: int) -> None:
    columns = crowded(seed, 4, 12)
    widths = column_shares(columns, 120.0)
    whole = [max(width for width in np.arange(5.0, 400.0, 0.5) if line_count(text, width) > 1 or width < 6)
             for text in (max(column.cells, key=len) for column in columns)]
    used = sum(width or most for width, most in zip(widths, whole, strict=True))
    assert used == pytest.approx(120.0, abs=4.0)


def test_every_word_stays_whole() -> None:
    long = told(*("starboard sidelight " * k for k in range(1, 9)))
    width = column_shares([long, told(*["many words in a cell " * 9] * 8)], 60.0)[0]
    assert width > 0 and line_count("starboard", width) == 1


def test_numbers_do_not_break_while_there_is_another_way() -> None:
    """A name that wraps is read as well; '5 to 7 mcd' in two lines is not."""
    numbers = told("0.15 to 0.78 (0.05 to 1.2)", "5 to 7 (4 to 9)", splits=False)
    words = told("a lamp whose name is as long as this one", "portlights on the starboard side of the hull")
    first, second = column_shares([numbers, words], 80.0)
    assert first == 0.0 and second > 0
    assert column_shares([numbers, words], 40.0)[0] > 0, "no other way"


def test_more_text_gets_more_width() -> None:
    short, long = told(*["x y z " * 4] * 5, wide=True), told(*["x y z " * 40] * 5, wide=True)
    first, second = column_shares([short, long], 150.0)
    assert second > first or first == 0.0


def test_a_line_holds_what_its_width_holds() -> None:
    assert [line_count("one two three", width) for width in (500.0, 4.0)] == [1, 3]
    assert line_count("", 10.0) == 1
