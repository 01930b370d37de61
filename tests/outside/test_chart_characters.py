"""Characters of lights against published definitions, and published timings that a reader must reproduce.

Source: IHO S-4 and Chart 1 section P (light characters); IHO S-57 attribute LITCHR; example timings of a national light
list's annex on characters (Oc, Oc(2), Oc(2+1), Iso) as kept in the table aton_examples.
"""

import pytest

from rushlight.tables import rows
from rushlight.timing.character import obeys_class, parse_rhythm, rhythm_of_steps
from rushlight.timing.classes import class_breaches

EXAMPLES = rows("aton_examples")


@pytest.mark.parametrize("row", EXAMPLES, ids=[row["character"] for row in EXAMPLES])
def test_examples_add_to_their_period_and_obey_their_class(row):
    written = rhythm_of_steps(row["steps"])
    read = parse_rhythm(row["character"])
    assert written.period_s == pytest.approx(float(row["period_s"]))  # source: the row's period
    assert read.period_s == pytest.approx(float(row["period_s"]))
    assert obeys_class(read)
    assert [(s.colour, s.level) for s in read.steps] == [(s.colour, s.level) for s in written.steps]
    assert [s.seconds for s in read.steps] == pytest.approx([s.seconds for s in written.steps], abs=1e-5)


@pytest.mark.parametrize(
    ("text", "abbr", "period_s", "flashes"),
    [
        ("Fl(3) W 15s", "Fl(n)", 15.0, 3),  # source: Chart 1 P 10.2
        ("Fl(2+1) R 10s", "Fl(a+b)", 10.0, 3),  # source: Chart 1 P 10.3
        ("LFl W 10s", "LFl", 10.0, 1),  # source: Chart 1 P 10.5
        ("Oc(2) W 8s", "Oc(n)", 8.0, 2),  # source: Chart 1 P 10.4
        ("Iso G 4s", "Iso", 4.0, 1),  # source: Chart 1 P 10.4
        ("Q(3) W 10s", "Q(n)", 10.0, 3),  # source: Chart 1 P 10.6
        ("IQ R 10s", "IQ", 10.0, 6),  # source: Chart 1 P 10.6; 6 flashes derived: 6 s of 1 s each
        ("Mo(K) Y 10s", "Mo(x)", 10.0, 3),  # source: Chart 1 P 10.9; K is -.-
        ("FFl W 5s", "FFl", 5.0, 1),  # source: Chart 1 P 10.10
        ("Al WR 10s", "Al", 10.0, 2),  # source: Chart 1 P 10.11
    ],
)
def test_classes_read_as_the_chart_means_them(text, abbr, period_s, flashes):
    rhythm = parse_rhythm(text)
    assert (rhythm.kind, rhythm.period_s, rhythm.flashes) == (abbr, period_s, flashes)


@pytest.mark.parametrize(("text", "low", "high"), [("Q", 50, 79), ("VQ", 80, 159), ("UQ", 160, 300)])
def test_quick_rates(text, low, high):
    assert low <= parse_rhythm(text).rate_per_min <= high  # source: IHO S-57 LITCHR 4, 5, 6


@pytest.mark.parametrize(
    ("steps", "abbr"),
    [
        ("W:3;-:2", "Fl"),  # derived: lit longer than dark
        ("W:1;-:2;W:0.5;-:4", "Fl"),  # derived: unlike flashes
        ("W:0.4;-:0.6", "Fl"),  # derived: 60 a minute is quick
        ("W:1.5;-:8.5", "LFl"),  # derived: under 2 s
        ("W:2;-:3", "Oc"),  # derived: dark longer than lit
        ("W:2;-:2.2", "Iso"),  # derived: unequal
        ("W:0.5;-:1", "Q"),  # derived: 40 a minute
        ("W:0.2;-:0.3", "Q"),  # derived: 120 a minute
        ("W:0.05;-:0.1", "UQ"),  # derived: 400 a minute
        ("W:1;-:1", "F"),  # derived: dark half the time
        ("W:1;-:1", "Al"),  # derived: one colour
        ("W:1;-:1", "FFl"),  # derived: dark between
        ("W:0.5;-:0.5;W:0.8;-:3", "Mo(x)"),  # derived: 1.6 times is no dash
    ],
)
def test_broken_rhythms_are_caught(steps, abbr):
    assert class_breaches(rhythm_of_steps(steps), abbr)


@pytest.mark.parametrize(
    ("text", "lengths"),
    [("Fl W 4s (fl 0.4 ec 3.6)", [0.4, 3.6]), ("Fl(2) W 6s fl 1.0, ec 1.0, fl 1.0, ec 3.0", [1.0, 1.0, 1.0, 3.0])],
)
def test_lengths_given_by_a_light_list_are_kept(text, lengths):
    # source: form of the remarks column of published light lists
    assert [step.seconds for step in parse_rhythm(text).steps] == lengths
