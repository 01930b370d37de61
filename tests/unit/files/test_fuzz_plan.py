"""Whatever stands in plan.yaml, the reader gives a plan or problems; in bounded time, and nothing on disk changes."""

import contextlib
import random
import tracemalloc
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

import rushlight
from rushlight.errors import DocumentProblem
from rushlight.files import _events
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.plan_write import dump_plan
from rushlight.files.plan_yaml import parse_plan, read_plan

DRAWER = read_drawer()
DEMOS = Path(rushlight.__file__).parent / "demos"
LANTERN = (DEMOS / "lantern" / "plan.yaml").read_bytes()
TUG = (DEMOS / "tug" / "plan.yaml").read_text(encoding="utf-8")
NASTY = (
    "",
    "~",
    "null",
    "nan",
    "-.inf",
    "1e308",
    "-1",
    "0",
    "1:0",
    "[]",
    "{}",
    "[[]]",
    "- -",
    "&a",
    "*a",
    "!!int 3",
    "? ",
    ": ",
    "#",
    '"',
    "'",
    "\t",
    "|",
    ">",
    "%",
    "---",
    "...",
    "<<: *a",
    "{a: 1, a: 2}",
    "9" * 300,
    "a" * 3000,
    "[" * 30,
    "\u2028",
    "\ufeff",
    "🚢",
    "=",
    "0x10",
    "1_0",
    "12:30:00",
    "2001-01-01",
    "../..",
    "yes",
    "3 mm",
    "2,5",
)


def outcome(data):
    """A plan that writes and reads back, or problems with sense in them."""
    try:
        plan = parse_plan(data, "plan.yaml", DRAWER)
    except DocumentProblem as error:
        assert 1 <= len(error.problems) <= 101
        for problem in error.problems:
            assert problem.found and problem.expected
            assert problem.line >= 0 and problem.column >= 0
            assert len(str(problem)) < 1500
            assert str(problem).count("\n") == 0
        return
    assert parse_plan(dump_plan(plan), "plan.yaml", DRAWER) == plan


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=400))
@example(b"\xff\xfe\x00")
@example(b"\xef\xbb\xbf")
@example(b"\xed\xa0\x80")
@example(b'a: "\\ud800"')
def test_any_bytes(data):
    outcome(data)


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=300))
def test_any_text_after_a_good_head(text):
    outcome(b"rushlight: 1\n" + text.encode("utf-8", "replace"))


@settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.randoms(use_true_random=False))
def test_a_plan_with_bytes_changed(rng):
    data = bytearray(LANTERN)
    for _ in range(rng.randint(1, 6)):
        place = rng.randrange(len(data))
        data[place : place + rng.randint(0, 3)] = bytes(rng.randrange(256) for _ in range(rng.randint(0, 3)))
    outcome(bytes(data))


@settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.randoms(use_true_random=False))
def test_a_plan_with_values_and_lines_exchanged(rng):
    lines = LANTERN.decode().splitlines()
    for _ in range(rng.randint(1, 4)):
        place = rng.randrange(len(lines))
        key, colon, value = lines[place].partition(":")
        lines[place] = rng.choice(
            (f"{key}{colon} {rng.choice(NASTY)}", rng.choice(lines), rng.choice(NASTY), f"  {lines[place]}")
        )
        assert value is not None
    outcome("\n".join(lines))


@pytest.mark.parametrize("value", NASTY)
def test_each_nasty_value_at_many_places_of_the_tug(value):
    rng = random.Random(7)
    lines = TUG.splitlines()
    for place in rng.sample(range(len(lines)), 3):
        key = lines[place].partition(":")[0]
        outcome("\n".join([*lines[:place], f"{key}: {value}", *lines[place + 1 :]]))


def test_the_file_on_disk_is_untouched(tmp_path):
    for data in (LANTERN, LANTERN[:-40], b"\0", b""):
        (tmp_path / "plan.yaml").write_bytes(data)
        with contextlib.suppress(DocumentProblem):
            read_plan(tmp_path, DRAWER)
        assert (tmp_path / "plan.yaml").read_bytes() == data
        assert len(list(tmp_path.iterdir())) == 1


HEAD = """rushlight: 1
subject: {title: A shed, scale: 1:72}
states: [{name: night}]
parts: [{name: wall, outline_mm: [[0, 0], [100, 0], [100, 60], [0, 60]]}]
"""


def peak_mb(data):
    tracemalloc.start()
    try:
        outcome(data)
        return tracemalloc.get_traced_memory()[1] / 1e6
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize(
    "data",
    [
        b"[" * 1_000_000,
        b"{" * 1_000_000,
        b"{a: " * 300_000,
        b"- " * 500_000,
        b"? " * 500_000,
        b"\n" * 1_000_000,
        b"a" * 1_000_000,
        b"'" * 1_000_000,
        b"&a " * 300_000,
        b"!" * 1_000_000,
        b"#" * 1_000_000,
        b" " * 1_000_000,
        HEAD.encode() + b"note: |\n" + b"  line\n" * 100_000,
        b"rushlight: " + b"9" * 1_000_000,
        HEAD.encode() + b'note: "' + b"\\x41" * 200_000 + b'"',
    ],
    ids=lambda data: f"{data[:6]!r}-{data[-6:]!r}",
)
def test_a_megabyte_of_one_thing_is_bounded_in_memory(data):
    assert peak_mb(data) < 60


def test_ten_thousand_lamps_that_are_all_wrong(monkeypatch):
    lamp = "- {name: same, part: nowhere, at_mm: [500, 2], colour: redd, states: [noon], brightness: {like: same}}\n"
    outcome(HEAD + "lamps:\n" + lamp * 4_000)
    monkeypatch.setattr(_events, "MOST_EVENTS", 20_000)
    outcome(HEAD + "lamps:\n" + lamp * 4_000)


@pytest.mark.slow
def test_a_hundred_thousand_lamps_are_read():
    lamps = "".join(
        f"- {{name: L{i}, part: wall, at_mm: [{i % 97}, 2], colour: red, states: night}}\n" for i in range(100_000)
    )
    assert len(parse_plan(HEAD + "lamps:\n" + lamps, "plan.yaml", DRAWER).lamps) == 100_000
