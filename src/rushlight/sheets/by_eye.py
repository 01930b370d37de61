"""The whole test without a meter: what is seen, by its kind, and where it then is."""

from __future__ import annotations

from dataclasses import replace

from rushlight.model.design import Design
from rushlight.model.sheet import Column, Note, Sheet, Table
from rushlight.stages.fault_by_eye import KINDS, EyeRow, EyeTest, eye_test
from rushlight.stages.fault_known import KnownFaults, known_faults
from rushlight.stages.fault_words import BESIDE, in_bay
from rushlight.stages.strip_choice import run_name

HOW = (
    "No meter: switch each state on in turn, in a dim room, and note which lamps are dark, which much dimmer than "
    "their like, and which are lit though they should be dark. Find that below: few lamps stand before many. Where one "
    "place is named, it is there. Where more are named they look alike; where two lamps to compare are told, that "
    "parts them further, else a meter does, or look at each. It holds every break, dead or reversed LED, cold joint, "
    "short, weak or turned cell, wrong resistor and stuck contact, one at a time; leads that are mixed up are in the "
    "search for a fault (app, phone, 'rushlight bench')."
)

KIND_WORDS = {
    "one": "One lamp dark, all others as usual", "dark": "Lamps dark together, or all of a circuit",
    "dim": "Lamps that are dim", "lit": "Lamps that are lit though they should be dark",
}

ALONG = "Look along that lamp's own way: heat its joints, turn its LED. Its resistor belongs to the LED."

MOST_LAMPS = 3
"""Lamps of one LED that are named."""

MOST_PLACES = 8
"""Places of a row that are named."""


def draw(design: Design) -> tuple[Sheet, ...]:
    """One sheet, where there is a loom to look at."""
    if design.power.supply is None or not design.loom.leads:
        return ()
    known = known_faults(design, usual=True)
    test = eye_test(known)
    if not test.rows:
        return ()
    return (Sheet("by-eye", "Without a meter", (Note(HOW), Note(sum_words(test)), *_tables(known, test))),)


def _tables(known: KnownFaults, test: EyeTest) -> tuple[Table, ...]:
    """A table for each kind of look; what may be hidden stands under the last."""
    by = {kind: tuple(row for row in test.rows if row.kind == kind) for kind in KINDS}
    *others, last = [_table(known, kind, rows) for kind, rows in by.items() if rows]
    said = (last.caption, hidden_words(test))
    return (*others, replace(last, caption=" ".join(filter(None, said))))


def _table(known: KnownFaults, kind: str, rows: tuple[EyeRow, ...]) -> Table:
    see = Column("see", "Dark alone" if kind == "one" else "You see", wide=True)
    compared = kind == "dim" and any(row.compare for row in rows)
    columns = (see, *([Column("compare", "Then compare", wide=True)] if compared else ()),
               Column("places", "It is", wide=True))
    cells = tuple(_cells(known, row, compared=compared) for row in rows)
    return Table(f"by-eye-{kind}", KIND_WORDS[kind], columns, cells, ALONG if kind == "one" else "")


def _cells(known: KnownFaults, row: EyeRow, *, compared: bool) -> tuple[str, ...]:
    design = known.design
    if row.kind == "one":
        leads = [place_words(design, place) for place in row.places if place != row.branch]
        return lamp_words(design, row.branch), " or ".join(leads + ["the LED"] * (row.branch in row.places))
    see, places = see_words(known, row), places_words(design, row.places)
    if not row.compare:
        return (see, *([""] if compared else []), places)
    if not compared:
        return see, f"{places}; {left_words(design, row)}"
    return see, compare_words(design, row), parts_words(design, row)


def eye_words(known: KnownFaults, test: EyeTest) -> list[tuple[str, str, str, str]]:
    """Each row in words: what is seen, the places, whether that is enough, what is left."""
    return [(see_words(known, row), places_words(known.design, row.places), row.enough, left_words(known.design, row))
            for row in test.rows]


def sum_words(test: EyeTest) -> str:
    """How far the eye goes, counted."""
    count = {word: sum(row.enough == word for row in test.rows) for word in ("place", "lamp", "no")}
    more = sum(row.compare is not None for row in test.rows)
    compared = f" (in {more} of them two lamps beside each other part them further)" if more else ""
    return (f"Of {len(test.rows)} looks that a single fault can give, {count['place']} name the place, {count['lamp']} "
            f"the lamp's own way, and {count['no']} leave several places{compared}.")


def hidden_words(test: EyeTest) -> str:
    """What may look as if nothing were wrong."""
    joints = sum(one.kind == "poor joint" for one in test.hidden)
    return f"Nothing to see need not be nothing wrong: {joints} joints may be a little cold." if joints else ""


def see_words(known: KnownFaults, row: EyeRow) -> str:
    """What is dark, dim and lit; a lamp that is so in each of its states without naming them."""
    words: list[str] = []
    for what, says in (("dark", "dark"), ("dim", "dim"), ("lit", "lit though it should be dark")):
        by: dict[str, list[str]] = {}
        for state, look in row.looks:
            for name in getattr(look, what):
                by.setdefault(name, []).append(state)
        named: dict[tuple[str, ...], list[str]] = {}
        for name, states in by.items():
            every = what != "lit" and states == _states_of(known, name)
            named.setdefault(() if every else tuple(states), []).append(name)
        words += [f"{says}{_when(states)}: {_lamps_words(known, names, whole=len(named) == 1 and not states)}"
                  for states, names in sorted(named.items())]
    return "; ".join(words)


def _lamps_words(known: KnownFaults, names: list[str], *, whole: bool) -> str:
    """The lamps; where they are most of all and nothing else is said of others, those that are left out."""
    if whole and len(names) > MOST_LAMPS:
        named = set(names)
        others = [name for name in known.bank.emitters if name not in named and _states_of(known, name)]
        if len(others) < len(names) / 2:
            return "all" if not others else f"all but {_named(known, others)}"
    return _named(known, names)


def _named(known: KnownFaults, names: list[str]) -> str:
    return ", ".join(lamp_words(known.design, name) for name in sorted(names))


def lamp_words(design: Design, name: str) -> str:
    """An LED by its lamp; one that shines through fibres, or a strip, with the lamps or rows that are seen of it."""
    own = design.loom.emitter(name).lamps
    seen = list(dict.fromkeys(design.lamp(lamp).group or lamp for lamp in own))
    if name in seen or name in own or name == run_name(own):
        return name
    more = len(seen) - MOST_LAMPS
    return f"{name} ({', '.join(seen[:MOST_LAMPS])}{f' and {more} more' if more > 0 else ''})" if seen else name


def _states_of(known: KnownFaults, name: str) -> list[str]:
    on = known.bank.on[known.bank.at[name]]
    return [state for state, lit in zip(known.table.states, on.tolist(), strict=True) if lit]


def _when(states: tuple[str, ...]) -> str:
    return " in " + ", ".join(f"'{state}'" for state in states) if states else ""


def places_words(design: Design, places: tuple[str, ...]) -> str:
    """The places, the first few by name."""
    named = [place_words(design, place) for place in places[:MOST_PLACES]]
    more = len(places) - MOST_PLACES
    return ", ".join(named) + (f" and {more} more" if more > 0 else "")


def place_words(design: Design, place: str) -> str:
    """One place: an LED with what belongs to it, a lead with its colour, a part in the bay."""
    if design.loom.has_emitter(place):
        return place
    if place.startswith("lead "):
        lead = design.loom.lead(place.removeprefix("lead "))
        return f"{place} ({lead.colour})" if lead else place
    return {"fuse": "the fuse", "supply": "the cells", "makers": "the controller's own feed"}.get(place, in_bay(place))


def left_words(design: Design, row: EyeRow) -> str:
    """What is still to be done."""
    if row.enough == "place":
        return "nothing"
    if row.enough == "lamp":
        return f"look along {row.branch}: {len(row.places)} places"
    if row.compare is None:
        return f"{len(row.places)} places look alike"
    return f"{compare_words(design, row)}; {parts_words(design, row)}"


def compare_words(design: Design, row: EyeRow) -> str:
    """Which two lamps to look at beside each other, and when; nothing where that tells nothing."""
    probe = row.compare
    if probe is None:
        return ""
    one, two = (lamp_words(design, name) for name in (probe.plus, probe.back))
    return f"in '{probe.state}' compare {one} with {two}"


def parts_words(design: Design, row: EyeRow) -> str:
    """What each answer of the comparison then leaves."""
    most = MOST_PLACES // 2
    return "; ".join(
        f"{BESIDE[value].replace('X', 'it')}: {places_words(design, places[:most])}"
        + (f" and {len(places) - most} more" if len(places) > most else "")
        for value, places in row.parts
    )
