"""Files beside the book."""

from __future__ import annotations

from rushlight.model.sheet import Sheet
from rushlight.sheets.csv_table import to_csv
from rushlight.sheets.dxf import to_dxf
from rushlight.sheets.exports import exports
from rushlight.sheets.svg import to_svg
from sample_sheets import lamp_table, part_drawing, sheets, template


def test_every_table_and_drawing_becomes_a_file() -> None:
    found = exports((Sheet("hull", "", (lamp_table(3), part_drawing(), template(2.6))),))
    made = {export.path: export.text for export in found}
    page = "templates/hull-plate-template"
    assert list(made) == ["tables/hull-lamps.csv", "drawings/hull-plate.svg", f"{page}.dxf", f"{page}.svg",
                          f"{page}-a1.svg", f"{page}-a2.svg", f"{page}-a3.svg"]
    assert made["tables/hull-lamps.csv"] == to_csv(lamp_table(3))
    assert made["drawings/hull-plate.svg"] == to_svg(part_drawing())
    assert made["templates/hull-plate-template.dxf"] == to_dxf(template(2.6))


def test_a_key_that_names_its_sheet_is_not_doubled() -> None:
    assert exports((Sheet("lamps", "", (lamp_table(1),)),))[0].path == "tables/lamps.csv"


def test_no_path_comes_twice_and_all_stay_in_the_folder() -> None:
    found = [export.path for export in exports((*sheets(), *sheets()))]
    assert len(set(found)) == len(found) and any(path.endswith("-2.csv") for path in found)
    assert all(".." not in path and not path.startswith("/") for path in found)


def test_the_same_sheets_give_the_same_files() -> None:
    assert exports(sheets()) == exports(sheets())
