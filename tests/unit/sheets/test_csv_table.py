"""Tables as CSV."""

from __future__ import annotations

import csv
import io

import pytest

from rushlight.model.sheet import Column, Table
from rushlight.sheets.csv_table import to_csv
from sample_sheets import lamp_table


def back(*cells: object) -> list[list[str]]:
    columns = tuple(Column(f"c{k}", "") for k in range(len(cells)))
    return list(csv.reader(io.StringIO(to_csv(Table("t", "", columns, (cells,))), newline="")))  # type: ignore[arg-type]


def test_header_holds_keys_and_rows_hold_full_numbers() -> None:
    lines = to_csv(lamp_table(3)).split("\r\n")
    assert lines[0] == "lamp,length_mm,current_ma,why,state"
    assert lines[2].startswith("portlight 1,88.5,0.123456,")
    assert lines[-1] == ""


def test_numbers_read_back_without_the_noise_of_their_binary_form() -> None:
    assert back(0.1 + 0.2, 2 / 3, 1e-300, -5)[1] == ["0.3", "0.666667", "1e-300", "-5"]
    values = (1e-300, 123456789.0, -5, 1e300, 3.0)
    assert [float(v) for v in back(*values)[1]] == [float(v) for v in values]
    assert back(3.0)[1] == ["3"] and back(None)[1] == [""]


def test_quotes_commas_and_lines_survive() -> None:
    words = 'a "b", c\nd\r\ne'
    assert back(words, "")[1] == [words, ""]


# source: RFC 4180 says nothing of formulas; the leading apostrophe is common practice of spreadsheet exports
@pytest.mark.parametrize("text", ["=1+1", "@SUM(A1)", "+cmd", "-x", "\tx"])
def test_no_text_becomes_a_formula(text: str) -> None:
    assert back(text, "z")[1][0] == "'" + text


@pytest.mark.parametrize("text", ["-12 V", "+5", "a=b", "", "port 2"])
def test_plain_text_stays_as_it_is(text: str) -> None:
    assert back(text, "z")[1][0] == text
