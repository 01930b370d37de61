"""Reading a plan: what it means, and what each broken plan is told."""

import math
from pathlib import Path

import pytest
import yaml

from designed import planned
from plans import board
from rushlight.errors import DocumentProblem
from rushlight.files import _events
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.plan_yaml import checksum, parse_plan, plan_path, read_plan
from rushlight.stages.rooms import opening_mm2

BROKEN = Path(__file__).parents[2] / "cases" / "broken"
CASES = sorted(BROKEN.glob("*.yaml"))
DRAWER = read_drawer()

HEAD = """rushlight: 1
subject: {title: A shed, scale: '1:72'}
states: [{name: night}, {name: dusk}]
parts:
  - name: wall
    outline_mm: [[0, 0], [10 cm, 0], [100, 60], [0, 60], [0, 0]]
"""


def read(tail="", head=HEAD):
    return parse_plan(head + tail, "plan.yaml", DRAWER)


def problems(text):
    with pytest.raises(DocumentProblem) as caught:
        parse_plan(text, "plan.yaml", DRAWER)
    return caught.value.problems


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_broken_plan_says(case):
    """# pinned: guards change only; each text was read by a person when it was made."""
    data = case.read_bytes()
    with pytest.raises(DocumentProblem) as caught:
        parse_plan(data, case.name, DRAWER)
    assert str(caught.value) + "\n" == case.with_suffix(".txt").read_text(encoding="utf-8")
    assert case.read_bytes() == data


def test_corpus_is_large_and_each_case_has_its_text():
    assert len(CASES) >= 90
    assert {case.stem for case in CASES} == {text.stem for text in BROKEN.glob("*.txt")}


def test_a_plan_means_what_it_says():
    plan = read("""lamps:
  - name: door  lamp
    part: wall
    at_mm: [50, 3 cm]
    colour: 525 nm
    size_mm: 1 1/2"
    brightness: {subject_intensity_cd: 94 cd}
    states: [night, dusk]
    rhythm: Fl(2) W 10s
    evidence: [{kind: guess, count: 2-3, certainty: 40 %}]
rows:
  - {name: port, part: wall, along_mm: [[10, 10], [90, 10]], count: 40, colour: warm white, states: night}
supply: {kind: usb power bank, run_h: 90 min, limit_a: 500 mA, bank_mah: 10 Ah, master: off}
note: |
  two
  lines
""")
    lamp = plan.lamps[0]
    assert plan.subject.scale == 72
    assert plan.parts[0].outline_mm == ((0, 0), (100, 0), (100, 60), (0, 60))  # the closing corner is left out
    assert (lamp.name, lamp.at_mm, lamp.size_mm) == ("door lamp", (50, 30), 38.1)
    assert (lamp.evidence[0].count, lamp.evidence[0].certainty) == ((2, 3), 0.4)
    assert plan.rows[0].states == ("night",)
    assert (plan.supply.run_h, plan.supply.limit_a, plan.supply.master) == (1.5, 0.5, False)
    assert plan.supply.bank_mah == 10_000
    assert plan.note == "two\nlines\n"


@pytest.mark.parametrize("word", ["yes", "true", "on", "Yes", "TRUE"])
def test_flags(word):
    assert read(head=HEAD.replace("A shed", f"A shed, invented: {word}")).subject.invented


def test_empty_keys_count_as_left_out():
    plan = read("lamps:\nnote: ~\nsupply: null\n")
    assert (plan.lamps, plan.note, plan.supply) == ((), "", None)
    assert read('note: "null"\n').note == "null"


def test_words_keep_what_yaml_would_change():
    plan = read("note: on\n", HEAD.replace("{name: night}", "{name: night}, {name: 12:30}, {name: '0x1f'}"))
    assert plan.note == "on"
    assert [state.name for state in plan.states] == ["night", "12:30", "0x1f", "dusk"]


def test_columns_count_from_one_also_after_wide_letters():
    found = problems(HEAD.replace("A shed", "Ünïcode ☂") + "note: {a: ☂, b: [☂, {x: 1}]}\nfoo: 1\n")
    assert [(p.line, p.column) for p in found] == [(7, 7), (8, 1)]


def test_all_problems_at_once_in_order():
    found = problems(
        HEAD.replace("1:72", "0") + "lamps: [{name: a, colour: no such, states: noon}]\nsupply: {kind: coal}\n"
    )
    assert [problem.line for problem in found] == [2, 7, 7, 8]


def test_after_a_hundred_problems_the_rest_is_counted():
    found = problems(HEAD + "lamps:\n" + "  - {name: a, colour: no such, states: noon}\n" * 500)
    assert len(found) == 101
    assert "problems more" in found[-1].found


def test_bytes_that_are_no_text():
    assert (problems(b"rushlight: 1\na: \xff")[0].line, problems(b"rushlight: 1\na: \xff")[0].column) == (2, 4)
    assert "U+0007" in problems("rushlight: 1\nnote: \x07\n")[0].found
    assert "U+0000" in problems(b"\0")[0].found


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_encodings_and_line_ends_of_editors(encoding, end):
    data = (HEAD + "note: Grüße\n").replace("\n", end).encode(encoding)
    assert parse_plan(data, "plan.yaml", DRAWER).note == "Grüße"


def test_size_is_bounded(monkeypatch):
    assert "MB" in problems(b" " * 8_000_001)[0].found
    assert "million" in problems(" " * 8_000_001)[0].found
    monkeypatch.setattr(_events, "MOST_EVENTS", 50)
    assert "more than 50 values" in problems(HEAD)[0].found


def test_the_slow_parser_says_the_same(monkeypatch):
    monkeypatch.setattr(_events, "_LOADER", yaml.Loader)
    assert read("note: x\n").note == "x"
    for name in ("tag", "duplicate-key", "anchor-alias", "unknown-key", "many-at-once", "too-deep"):
        test_broken_plan_says(BROKEN / f"{name}.yaml")


@pytest.mark.parametrize("good", ["a.png", "sub/a.png", "a b.jpg", "Ä.png"])
def test_file_names_inside(good):
    plan = read("references: [{name: r, file: '" + good + "'}]\n")
    assert plan.references[0].file == good


@pytest.mark.parametrize(
    "bad",
    [
        "../a.png",
        "a/../../b.png",
        "/a.png",
        "c:a.png",
        "a\\b.png",
        "./a.png",
        "a//b.png",
        "a/",
        "con",
        "nul.png",
        "a*.png",
        "a. ",
        "..",
    ],
)
def test_file_names_outside(bad):
    assert "file is" in problems(HEAD + "references: [{name: r, file: '" + bad + "'}]\n")[0].found


def test_a_point_on_the_border_is_inside_and_one_just_off_is_not():
    lamp = "lamps: [{name: a, part: wall, at_mm: [100, %s], colour: red, states: night}]\n"
    assert read(lamp % "60").lamps
    assert read(lamp % "60.0005").lamps
    assert "outside the part" in problems(HEAD + lamp % "60.002")[0].found


def test_a_row_round_a_notch_is_caught_between_its_ends():
    head = HEAD.replace("[100, 60], [0, 60]", "[100, 60], [60, 60], [60, 20], [40, 20], [40, 60], [0, 60]")
    row = "rows: [{name: r, part: wall, along_mm: [[10, 50], [90, 50]], %s, colour: red, states: night}]\n"
    assert "its lamp 3 lies 10 mm outside" in problems(head + row % "count: 5")[0].found
    assert "its lamp 3 lies 10 mm outside" in problems(head + row % "pitch_mm: 20")[0].found
    assert read(row % "count: 2", head).rows


def test_read_plan(tmp_path):
    (tmp_path / "plan.yaml").write_text(HEAD, encoding="utf-8")
    found = read_plan(tmp_path, DRAWER)
    assert found == read_plan(tmp_path / "plan.yaml", DRAWER)
    assert (found.text, found.revision_checksum) == (HEAD, checksum(HEAD.encode()))
    assert [path.name for path in tmp_path.iterdir()] == ["plan.yaml"]
    assert plan_path(tmp_path) == tmp_path / "plan.yaml"


def test_a_missing_picture_is_told_and_stops_nothing(tmp_path):
    (tmp_path / "plan.yaml").write_text(HEAD + "references: [{name: r, file: gone.png}]\n", encoding="utf-8")
    found = read_plan(tmp_path, DRAWER)
    assert found.plan.references[0].file == "gone.png"
    assert [str(problem) for problem in found.pictures] == [
        "pictures/gone.png, reference 'r': no such file; expected a picture."
    ]


def test_read_plan_without_a_plan(tmp_path):
    with pytest.raises(DocumentProblem, match="no such file"):
        read_plan(tmp_path, DRAWER)
    (tmp_path / "plan.yaml").mkdir()
    with pytest.raises(DocumentProblem, match="cannot be read"):
        read_plan(tmp_path, DRAWER)


def test_a_ring_of_equal_lamps_a_thousand_long_is_told_shortly():
    lamps = "".join(
        f"- {{name: l{i}, colour: red, states: night, brightness: {{like: l{(i + 1) % 1000}}}}}\n" for i in range(1000)
    )
    found = problems(HEAD + "lamps:\n" + lamps)
    assert len(found) == 1
    assert len(found[0].found) < 200


def test_a_chain_of_equal_lamps_is_no_ring():
    lamps = "".join(
        f"- {{name: l{i}, colour: red, states: night, brightness: {{like: l{i + 1}}}}}\n" for i in range(1000)
    )
    assert len(read("lamps:\n" + lamps + "- {name: l1000, colour: red, states: night}\n").lamps) == 1001


@pytest.mark.parametrize(("of", "nearest"), [
    ("lights", "lights 3"), ("lights 4", "lights 3"), ("lihgts 2", "lights 2"), ("lights foo", "lights 3"),
])
def test_a_reading_of_no_lamp_names_the_nearest_lamp_never_itself(of, nearest):
    rows = "{name: lights, part: board, along_mm: [[20, 60], [80, 60]], count: 3, colour: red, states: [night]}"
    reading = f"measured: [{{what: lamp, of: {of}, readings: [3], distance_mm: 200, state: night}}]\n"
    with pytest.raises(DocumentProblem, match=f"of '{of}' is not known.*Did you mean '{nearest}'"):
        planned(board(rows=rows, more=reading))


@pytest.mark.parametrize("of", ["lights 1", "lights 3", "lights m2"])
def test_a_reading_of_a_lamp_of_a_row_is_taken(of):
    rows = ("{name: lights, part: board, along_mm: [[20, 60], [80, 60]], count: 3, colour: red, states: [night], "
            "mirror: {part: board, axis_x_mm: 100}}")
    reading = f"measured: [{{what: lamp, of: {of}, readings: [3], distance_mm: 200, state: night}}]\n"
    assert planned(board(rows=rows, more=reading)).measured[0].of == of


def test_an_opening_may_be_round():
    """A clock's dial, a large porthole: 24 corners on its circle hold 98.9 % of its area (12 sin 15 deg / pi)."""
    opening = "    openings: [{name: dial, centre_mm: [50, 30], radius_mm: 5%s}]\n"
    made = read(opening % "")
    (dial,) = made.parts[0].openings
    assert opening_mm2(dial) == pytest.approx(12 * math.sin(math.radians(15)) * 25)
    (half,) = problems(HEAD + (opening % "").replace(", radius_mm: 5", ""))
    assert "a round opening with half its numbers; expected centre_mm and radius_mm" in str(half)
    (both,) = problems(HEAD + opening % ", rect_mm: [1, 1, 5, 5]")
    assert "exactly one of outline_mm, rect_mm, centre_mm" in str(both)
