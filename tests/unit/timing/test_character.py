"""Text to rhythm: the chart's notation, plain words, and what bad text gets."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rushlight.errors import OutOfRange, UnknownName
from rushlight.tables import rows
from rushlight.timing.character import obeys_class, parse_rhythm
from rushlight.timing.layout import lay_out


@pytest.mark.parametrize(
    ("text", "kind", "groups", "colours"),
    [
        ("Fl. (2) W. 10s", "Fl(n)", (2,), ("white",)),
        ("Gp Fl(3) R 12s", "Fl(n)", (3,), ("red",)),
        ("Qk Fl", "Q", (), ()),
        ("Alt WR 10s", "Al", (), ("white", "red")),
        ("F Fl W 10s", "FFl", (), ("white",)),
        ("Occ 6 sec", "Oc", (), ()),
        ("Fl WRG 5s 15m 12M", "Fl", (), ("white", "red", "green")),
        ("Fl(2)WR.10s", "Fl(n)", (2,), ("white", "red")),
        ("Q(6)+LFl 15s", "Q(n)", (6, 1), ()),
        ("Fl+LFl W 12s", "Fl+LFl", (1, 1), ("white",)),
        ("IVQ(4) 8s", "IVQ(n)", (4,), ()),
        ("Oc every 5 s", "Oc", (), ()),
        ("  Iso   2.5s ", "Iso", (), ()),
        ("Al Fl(2) WR 10s", "Al", (2,), ("white", "red")),
        ("Mo(U) W 15s", "Mo(x)", (), ("white",)),
    ],
)
def test_texts_as_people_write_them(text, kind, groups, colours):
    rhythm = parse_rhythm(text)
    assert (rhythm.kind, rhythm.groups, rhythm.colours) == (kind, groups, colours)
    assert obeys_class(rhythm)


def test_sectors_leave_the_colour_to_the_lamp():
    assert {step.colour for step in parse_rhythm("Fl WRG 5s").steps} == {None}
    assert {step.colour for step in parse_rhythm("Fl R 5s").steps} == {"red", None}
    assert {step.colour for step in parse_rhythm("Al Fl WR 10s").steps} == {"white", "red", None}


@pytest.mark.parametrize("kind", ["Fl", "Oc"])
@pytest.mark.parametrize("group", ["1", "2", "3", "4", "5", "2+1", "3+1"])
def test_every_group_that_parses_obeys_its_class_whatever_its_period(kind, group):
    fitted = 0
    for tenths in range(10, 301, 7):
        text = f"{kind}({group}) W {tenths / 10}s"
        try:
            rhythm = parse_rhythm(text)
        except OutOfRange:
            continue
        fitted += 1
        assert obeys_class(rhythm), text
        assert math.fsum(s.seconds for s in rhythm.steps) == pytest.approx(tenths / 10)
    assert fitted > 15


def test_morse_spells_with_dots_dashes_and_gaps():
    # derived: A is dot dash; dot 0.5 s, dash 1.5 s, gap 0.5 s; between letters 1.5 s
    steps = parse_rhythm("Mo(AE) 12s").steps
    assert [(s.level, s.seconds) for s in steps] == [
        (1, 0.5), (0, 0.5), (1, 1.5), (0, 1.5), (1, 0.5), (0, pytest.approx(7.5)),
    ]


def test_a_long_morse_text_is_shortened_into_its_period():
    rhythm = parse_rhythm("Mo(SOS) 8s")
    assert rhythm.period_s == pytest.approx(8.0) and rhythm.flashes == 9 and obeys_class(rhythm)


@pytest.mark.parametrize(
    ("text", "period_s", "steps"),
    [
        ("steady", 1.0, [(1, 1.0)]),
        ("off", 1.0, [(0, 1.0)]),
        ("flash 60/min", 1.0, [(1, 0.5), (0, 0.5)]),
        ("flash 60 per min on 0.2 s", 1.0, [(1, 0.2), (0, 0.8)]),
        ("flash 2 Hz", 0.5, [(1, 0.25), (0, 0.25)]),
        ("Strobe 1.2 s", 1.2, [(1, 0.08), (0, 1.12)]),
        ("double strobe 1.2 s", 1.2, [(1, 0.08), (0, 0.12), (1, 0.08), (0, 0.92)]),
        ("alternate 60/min", 1.0, [(1, 0.5), (0, 0.5)]),
        ("alternate 60/min, second", 1.0, [(0, 0.5), (1, 0.5)]),
    ],
)
def test_plain_words(text, period_s, steps):
    rhythm = parse_rhythm(text)
    assert rhythm.period_s == pytest.approx(period_s)
    assert [(s.level, s.seconds) for s in rhythm.steps] == [(level, pytest.approx(s)) for level, s in steps]


def test_partners_alternate():
    first, second = parse_rhythm("alternate 90/min"), parse_rhythm("alternate 90/min second")
    assert all(first.level_at(t / 97) + second.level_at(t / 97) == 1.0 for t in range(200))


def test_soft_rhythms_rise_and_fall():
    beacon = [s.level for s in parse_rhythm("beacon 1.4 s").steps]
    assert max(beacon) == 1.0 and beacon[-1] == 0.0 and beacon[:9] == pytest.approx(beacon[8::-1])
    fade = [s.level for s in parse_rhythm("fade 3 s").steps]
    assert fade == fade[::-1] and fade[0] == 0.0 and max(fade) == 1.0
    rise = [s.level for s in parse_rhythm("spool-up 4 s").steps]
    assert rise == sorted(rise) and not parse_rhythm("spool-up 4 s").repeats


def test_random_rhythms_are_seeded():
    for word in ("random windows", "flicker"):
        assert parse_rhythm(word) == parse_rhythm(word)
        assert parse_rhythm(word, seed=1).steps != parse_rhythm(word, seed=2).steps
        assert parse_rhythm(f"{word} seed 2").steps == parse_rhythm(word, seed=2).steps
        assert parse_rhythm(f"{word} 2", seed=9).steps == parse_rhythm(word, seed=2).steps


def test_windows_are_lit_most_of_the_evening_and_a_flame_never_goes_out():
    share = sum(parse_rhythm("random windows", seed=k).on_share for k in range(200)) / 200
    assert 0.60 <= share <= 0.85  # source: practice_rules random_windows (common practice, no source)
    flame = parse_rhythm("flicker")
    assert min(s.level for s in flame.steps) >= 0.55 and len({s.level for s in flame.steps}) > 50


@pytest.mark.parametrize(
    ("text", "match"),
    [
        ("Zork", "rhythm 'Zork'"), ("strobes 1 s", "Did you mean 'strobe'"), ("", "rhythm ''"),
        ("Fl X 5s", "'X'"), ("Mo(?) 5s", "'\\(\\?\\)|Morse|'\\?'"), ("Al Zz WR 5s", "'Zz"), ("beacom 1 s", "beacon"),
    ],
)
def test_unknown_words_name_the_nearest(text, match):
    with pytest.raises(UnknownName, match=match):
        parse_rhythm(text)


@pytest.mark.parametrize(
    ("text", "match"),
    [
        ("Fl W", "period"), ("Fl W 1s", "50 a minute"), ("LFl 2s", "flashes need"), ("Fl(0) 5s", "counts"),
        ("Fl(1+1+1+1+1) 30s", "counts"), ("Al W 5s", "two or more"), ("Mo 5s", "letter"), ("Q(9) 5s", "flashes need"),
        ("Fl(2)+LFl 2s", "long flash"), ("Fl 0s", "period"), ("Fl 5000s", "3600"), ("Q(2+1) 9s", "one count"),
        ("Fl W 5s (fl 0.5 ec 3)", "together"), ("strobe", "missing"), ("strobe fast", "fast.*or .strobe 60/min"),
        ("strobe 0.05 s", "lit"),
        ("steady 3 s", "nothing more"), ("flicker wildly", "seed"), ("flash 0/min", "over 0"), ("IQ 2s", "at least"),
        ("Q 0.1s", "a minute"),
    ],
)
def test_texts_that_cannot_be(text, match):
    with pytest.raises(OutOfRange, match=match):
        parse_rhythm(text)


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=40))
def test_any_text_gives_a_rhythm_or_a_clear_error(text):
    try:
        assert parse_rhythm(text).period_s > 0
    except (OutOfRange, UnknownName) as trouble:
        assert str(trouble)


@given(
    st.lists(
        st.sampled_from(["Fl", "Oc", "Q", "VQ", "(2)", "(2+1)", "+", "LFl", "Al", "W", "R", "5s", "10s", ".", " ", "Mo",
                         "(A)", "strobe", "1.2 s", "60/min", "fl 0.5", "ec 4.5", "12M"]),
        max_size=8,
    ).map("".join)
)
def test_near_misses_give_a_rhythm_or_a_clear_error(text):
    try:
        rhythm = parse_rhythm(text)
        assert math.fsum(s.seconds for s in rhythm.steps) == pytest.approx(rhythm.period_s)
    except (OutOfRange, UnknownName) as trouble:
        assert str(trouble)


def test_every_rhythm_in_the_tables_reads():
    for row in (*rows("aton_usual"), *rows("light_rhythms")):
        assert obeys_class(parse_rhythm(row["rhythm"])), row


@pytest.mark.parametrize("kind", ["Fl", "IQ", "Mo", "LFl"])
def test_a_layout_without_period_is_refused(kind):
    with pytest.raises(OutOfRange, match="missing"):
        lay_out(kind, "A" if kind == "Mo" else "", None)
