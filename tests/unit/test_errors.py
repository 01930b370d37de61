"""What an error tells: the nearest right thing, and all that there is to choose from."""

from __future__ import annotations

from rushlight.errors import UnknownName, known_words


def test_a_name_with_a_comma_is_quoted_and_what_is_left_out_is_counted() -> None:
    names = ["cruise", "parked, powered", *(f"taxi {number}" for number in range(12))]
    assert known_words(names).startswith("cruise, 'parked, powered', taxi 0, ")
    assert known_words(names).endswith(" and 2 more")
    assert known_words(names[:3]) == "cruise, 'parked, powered', taxi 0"


def test_the_nearest_name_alone_is_told_where_there_is_one() -> None:
    assert str(UnknownName("state", "cruse", ["cruise", "taxi"])) == "state 'cruse' is not known. Did you mean 'cruise'?"
