"""The code and the phones that are in."""

import pytest

from rushlight.web.pairing import CODE_DIGITS, CODE_LIVES_S, IDLE_S, MOST_PHONES, MOST_WRONG, Guests


class Clock:
    now = 100.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def guests(clock):
    return Guests(clock)


def wrong(code: str) -> str:
    return f"{(int(code) + 1) % 10**CODE_DIGITS:0{CODE_DIGITS}}"


def let_in(guests, name="red"):
    return guests.try_code(guests.new_code(), name).secret


def test_a_code_lets_one_phone_in(guests):
    code = guests.new_code()
    assert len(code) == CODE_DIGITS >= 6
    secret = guests.try_code(f" {code} ", "red").secret
    assert len(secret) >= 43  # 256 bits in base 64
    assert guests.who(secret).name == "red"
    assert "was used" in guests.try_code(code, "blue").why


def test_codes_are_not_repeated(guests):
    assert len({guests.new_code() for _ in range(200)}) > 190


def test_a_new_code_ends_the_old_one(guests):
    old = guests.new_code()
    assert old != guests.new_code() and guests.try_code(old, "").secret == ""


def test_a_code_grows_old(guests, clock):
    code = guests.new_code()
    clock.now += CODE_LIVES_S
    assert guests.code == "" and "too old" in guests.try_code(code, "").why


def test_after_five_wrong_codes_the_door_is_shut_even_for_the_right_one(guests):
    code = guests.new_code()
    for left in range(MOST_WRONG - 1, 0, -1):
        assert f"{left} more" in guests.try_code(wrong(code), "").why
    assert "the door is shut" in guests.try_code(wrong(code), "").why
    assert guests.shut and "the door is shut" in guests.try_code(code, "").why
    assert guests.try_code(guests.new_code(), "").secret


def test_no_code_no_way_in(guests):
    assert guests.try_code("", "").secret == ""
    assert guests.who("") is None and guests.who("x" * 43) is None


def test_a_phone_is_sent_away(guests):
    secret = let_in(guests)
    key = guests.who(secret).key
    assert secret not in key and guests.send_away(key) and not guests.send_away(key)
    assert guests.who(secret) is None


def test_phones_have_names_of_their_own_and_are_bounded(guests):
    for _ in range(MOST_PHONES):
        assert let_in(guests, "my\nphone <b>")
    assert [phone.name for phone in guests.phones()][:2] == ["myphone <b>", "myphone <b> 2"]
    assert "phones are in already" in guests.try_code(guests.new_code(), "").why
    assert Guests(Clock()).try_code("", "x" * 500).why


def test_the_secret_is_not_kept(guests):
    secret = let_in(guests)
    assert secret not in repr(vars(guests))


def test_idle_time_runs_from_the_last_word(guests, clock):
    secret = let_in(guests)
    clock.now += IDLE_S - 1
    assert guests.idle_left_s == 1
    guests.who("nobody")
    assert guests.idle_left_s == 1
    guests.who(secret)
    assert guests.idle_left_s == IDLE_S
    clock.now += 10
    guests.heard()
    assert guests.idle_left_s == IDLE_S
