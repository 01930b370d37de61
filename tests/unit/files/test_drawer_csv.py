"""The drawer: packaged rows, the user's rows over them, a plan's own values over both."""

import dataclasses
import math

import pytest

from rushlight import tables
from rushlight.errors import DocumentProblem, UnknownName
from rushlight.files._drawer_rows import TABLES, cells_of, range_columns, read_row
from rushlight.files.drawer_csv import add_row, own_folder, own_values, packaged, read_drawer
from rushlight.model.plan import Plan, Subject
from rushlight.model.plan_bench import OwnValue, Practice
from rushlight.units import Range

LAWS = {row["key"] for row in tables.rows("led_laws")}


def numbers(row):
    for field in dataclasses.fields(row):
        value = getattr(row, field.name)
        if isinstance(value, Range):
            yield from (value.low, value.typical, value.high)
        elif isinstance(value, int | float) and not isinstance(value, bool):
            yield value


def plan_with(*, drawer=(), practice=()):
    return Plan(subject=Subject(title="t", scale=72), states=(), parts=(), drawer=drawer, practice=practice)


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_every_row_has_a_source_a_unique_name_and_sane_numbers(table):
    rows = packaged(table)
    assert len(rows) >= 9
    assert len({row.name for row in rows}) == len(rows)
    for row in rows:
        assert len(row.source) > 10
        assert table.name == "habits" or row.confidence in ("low", "medium", "high")
        assert all(0 <= value < 1e6 and math.isfinite(value) for value in numbers(row))


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_header_is_the_fields(table):
    header = tuple(tables.rows(f"drawer_{table.name}")[0])
    assert tuple(column for column in header if column != "unit") == table.columns


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_a_row_written_as_cells_reads_back_equal(table):
    for row in packaged(table):
        assert read_row(table, cells_of(table, row)) == row


def test_range_columns():
    assert range_columns("intensity_mcd") == ("intensity_low_mcd", "intensity_mcd", "intensity_high_mcd")
    assert range_columns("flux_lm_per_m") == ("flux_low_lm_per_m", "flux_lm_per_m", "flux_high_lm_per_m")
    assert range_columns("reflectance") == ("reflectance_low", "reflectance", "reflectance_high")


def test_leds_have_laws_faces_and_either_colour_temperature_or_wavelength():
    for led in read_drawer().leds:
        assert led.law in LAWS
        assert (led.dominant_nm is None) != (led.cct_k is None)
        assert 0 < led.face_mm <= led.body_mm
        assert led.test_ma <= led.max_ma <= 30
        assert led.intensity_mcd.low == pytest.approx(0.5 * led.intensity_mcd.typical)
        assert led.hole_mm is None or led.hole_mm > led.face_mm


def test_strips_agree_with_themselves():
    for strip in read_drawer().strips:
        assert strip.law in LAWS
        assert strip.segment_mm == pytest.approx(strip.pitch_mm * strip.leds_per_segment, rel=1e-3)
        watts = strip.supply_v * strip.segment_ma / strip.segment_mm
        assert strip.power_w_per_m == pytest.approx(watts, rel=1e-3)
        assert 20 < strip.flux_lm_per_m.typical / strip.power_w_per_m < 110 or strip.cct_k is None


def test_tubes_shrink_by_no_more_than_their_ratio():
    for tube in read_drawer().tubes:
        assert tube.recovered_bore_mm < tube.supplied_bore_mm
        assert tube.supplied_bore_mm / tube.recovered_bore_mm == pytest.approx(tube.ratio, rel=0.05)


def test_every_numeric_practice_rule_has_a_habit():
    habits = {habit.name for habit in read_drawer().habits}
    for rule in tables.rows("practice_rules"):
        assert rule["check_kind"] != "numeric" or rule["key"] in habits
    assert read_drawer().habit("fibre_bend").low == 20
    assert read_drawer().habit("equal").high == 1.5


def test_defaults_of_the_plan_are_in_the_drawer():
    drawer = read_drawer()
    assert drawer.wall("white styrene").scatters
    assert drawer.cell("AA").iec == "LR6"


def test_no_user_folder_and_an_empty_one_give_the_packaged_drawer(tmp_path):
    assert read_drawer(tmp_path) == read_drawer() == read_drawer(tmp_path / "not there")


def test_a_users_row_replaces_and_adds(tmp_path):
    (tmp_path / "drawer_leds.csv").write_text(
        'name,intensity_mcd,price_eur\n"3 mm red, diffused",299,0.5\n', encoding="utf-8"
    )
    led = read_drawer(tmp_path).led("3 mm red, diffused")
    assert (led.intensity_mcd.low, led.intensity_mcd.typical, led.source) == (150, 299, "your own")
    assert len(read_drawer(tmp_path).leds) == len(read_drawer().leds)


def test_all_faults_of_a_users_table_are_named_at_their_place(tmp_path):
    (tmp_path / "drawer_drills.csv").write_text(
        'name,diametr_mm,diameter_mm\n"a, b",,x\n0.5 mm,,0.52\n0.5 mm,,1\n,,1\nc,,1,2,3\nd,,nan\n', encoding="utf-8"
    )
    with pytest.raises(DocumentProblem) as caught:
        read_drawer(tmp_path)
    found = [(p.line, p.column, p.found) for p in caught.value.problems]
    assert found == [
        (1, 6, "column 'diametr_mm' is not known"),
        (2, 9, "diameter_mm is 'x'"),
        (4, 1, "this name stands twice"),
        (5, 1, "name is an empty cell"),
        (6, 1, "5 cells"),
        (7, 4, "diameter_mm is 'nan'"),
    ]
    assert caught.value.problems[0].nearest == "diameter_mm"


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"\xff\xfe", "not UTF-8"),
        (b"diameter_mm\n1\n", "no column 'name'"),
        (b"name\n" + b"x" * 5_000_000, "4 MB"),
    ],
)
def test_a_users_table_that_is_none(tmp_path, data, says):
    (tmp_path / "drawer_drills.csv").write_bytes(data)
    with pytest.raises(DocumentProblem, match=says):
        read_drawer(tmp_path)


def test_a_folder_in_place_of_a_table(tmp_path):
    (tmp_path / "drawer_drills.csv").mkdir()
    with pytest.raises(DocumentProblem, match="cannot be read"):
        read_drawer(tmp_path)


def test_add_row_writes_what_read_drawer_finds(tmp_path):
    folder = tmp_path / "new" / "rushlight"
    add_row("drills", {"name": "0.52 mm", "diameter_mm": "0.52"}, folder)
    add_row("drills", {"name": "0.54 mm", "diameter_mm": "0.54"}, folder)
    path = add_row("drills", {"name": "0.54 mm", "diameter_mm": "0.55"}, folder)
    assert [row.diameter_mm for row in read_drawer(folder).drills if row.source == "your own"] == [0.52, 0.55]
    assert sorted(entry.name for entry in folder.iterdir()) == [path.name]


def test_add_row_refuses_and_writes_nothing(tmp_path):
    with pytest.raises(UnknownName, match="Did you mean 'drills'"):
        add_row("drill", {"name": "x"}, tmp_path)
    with pytest.raises(UnknownName, match="diameter_mm"):
        add_row("drills", {"name": "x", "diameter": "1"}, tmp_path)
    with pytest.raises(DocumentProblem, match="diameter_mm is an empty cell"):
        add_row("drills", {"name": "x"}, tmp_path)
    assert not list(tmp_path.iterdir())


def test_own_folder_by_platform(monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("APPDATA", str(tmp_path / "app"))
    for platform, end in (("linux", tmp_path), ("win32", tmp_path / "app")):
        monkeypatch.setattr("sys.platform", platform)
        assert own_folder() == end / "rushlight"
    monkeypatch.setattr("sys.platform", "darwin")
    assert own_folder().parts[-3:] == ("Library", "Application Support", "rushlight")


RED = "3 mm red, diffused"


def own(column, value, *, measured=False, table="leds", row=RED):
    return OwnValue(table=table, row=row, column=column, value=value, measured=measured)


@pytest.mark.parametrize(
    ("value", "wanted"),
    [
        (own("intensity_mcd", 600), Range(300, 600, 900)),  # derived: the row is 150, 300, 450; the middle scales all
        (own("intensity_mcd", 600, measured=True), Range(600, 600, 600)),
        (own("intensity_low_mcd", 200), Range(200, 300, 450)),
        (own("intensity_high_mcd", 200), Range(150, 200, 200)),
    ],
)
def test_own_value_of_a_range(value, wanted):
    led = own_values(read_drawer(), plan_with(drawer=(value,))).led(RED)
    assert led.intensity_mcd == wanted
    assert "is your own" in led.source


def test_own_value_of_plain_numbers():
    values = (own("face_mm", 2.9), own("pack", 25), own("hides_source", 0, table="diffusers", row="opal acrylic 1 mm"))
    drawer = own_values(read_drawer(), plan_with(drawer=values))
    assert (drawer.led(RED).face_mm, drawer.led(RED).pack) == (2.9, 25)
    assert not drawer.diffuser("opal acrylic 1 mm").hides_source
    assert read_drawer().diffuser("opal acrylic 1 mm").hides_source


@pytest.mark.parametrize(
    ("value", "says"),
    [
        (own("face_mm", 1, row="3 mm red, difused"), f"row '3 mm red, difused' is not known.*Did you mean '{RED}'"),
        (own("face", 1), "column 'face' is not known.*Did you mean 'face_mm'"),
        (own("colour", 1), "column that holds a number|holds a number"),
        (own("face_mm", -1), "0.2 to 30 mm"),
        (own("pack", 2.5), "whole number"),
        (own("hides_source", 2, table="diffusers", row="opal acrylic 1 mm"), "1 for yes, 0 for no"),
    ],
)
def test_own_value_faults(value, says):
    with pytest.raises(DocumentProblem, match=says):
        own_values(read_drawer(), plan_with(drawer=(value,)))


@pytest.mark.parametrize(
    ("practice", "ends"),
    [
        (Practice(habit="fibre_bend", value=25), (25, None)),
        (Practice(habit="equal", value=1.2), (None, 1.2)),
        (Practice(habit="dim", value=2, to=8), (2, 8)),
        (Practice(habit="dim", value=7), (7, 7)),
    ],
)
def test_own_habits(practice, ends):
    habit = own_values(read_drawer(), plan_with(practice=(practice,))).habit(practice.habit)
    assert ((habit.low, habit.high), habit.own) == (ends, True)


def test_faults_of_own_habits_come_together():
    wrong = (Practice(habit="fiber_bend", value=1), Practice(habit="dim", value=2, to=1))
    with pytest.raises(DocumentProblem, match="fibre_bend") as caught:
        own_values(read_drawer(), plan_with(practice=wrong))
    assert len(caught.value.problems) == 2


def test_each_cell_has_its_law():
    kinds = {row["cell"] for row in tables.rows("cell_kinds")}
    for part in read_drawer().cells:
        assert part.law in kinds
        assert part.drain_limit_ma > 0
