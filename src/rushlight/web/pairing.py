"""Who may come in from the local network: a code that lets one phone in, and the phones that are in.

Pure of sockets and clocks: the time is given.
"""

from __future__ import annotations

import hashlib
import hmac
import secrets
from collections.abc import Callable
from dataclasses import dataclass, replace

CODE_DIGITS = 6
CODE_LIVES_S = 300.0
MOST_WRONG = 5
MOST_PHONES = 8
IDLE_S = 3600.0
"""The door closes by itself when no phone has been heard of for so long."""

LONGEST_NAME = 40


@dataclass(frozen=True, slots=True)
class Phone:
    """One phone that is in. `key` names it on the screens; its secret is kept only as a digest."""

    key: str
    name: str
    digest: bytes
    since_s: float
    seen_s: float


@dataclass(frozen=True, slots=True)
class Let:
    """How a try at the code ended: the secret for the phone's cookie, or why not."""

    secret: str
    why: str


class Guests:
    """The code of the moment and the phones that are in."""

    def __init__(self, now: Callable[[], float]) -> None:
        self._now = now
        self._code = ""
        self._until_s = 0.0
        self._wrong = 0
        self._phones: dict[str, Phone] = {}
        self._heard_s = now()

    def new_code(self) -> str:
        """A code for one phone; an older one is worth nothing from now on."""
        self._code = f"{secrets.randbelow(10**CODE_DIGITS):0{CODE_DIGITS}}"
        self._until_s, self._wrong, self._heard_s = self._now() + CODE_LIVES_S, 0, self._now()
        return self._code

    @property
    def code(self) -> str:
        """The code of the moment; empty if there is none."""
        return self._code if self._now() < self._until_s else ""

    @property
    def code_left_s(self) -> float:
        """For how long the code still holds."""
        return max(0.0, self._until_s - self._now()) if self.code else 0.0

    @property
    def shut(self) -> bool:
        """Whether too many wrong codes came; a new code opens again."""
        return self._wrong >= MOST_WRONG

    def try_code(self, typed: str, name: str) -> Let:
        """Let a phone in if the code is right; each code lets in one."""
        if self.shut:
            return Let("", f"After {MOST_WRONG} wrong codes the door is shut. Ask for a new code at the computer.")
        if not self.code:
            return Let("", "This code was used or is too old. Ask for a new code at the computer.")
        if not hmac.compare_digest(typed.strip().encode(), self._code.encode()):
            self._wrong += 1
            if self.shut:
                self._code = ""
                return Let("", f"That was the {MOST_WRONG}th wrong code: the door is shut. "
                               "Ask for a new code at the computer.")
            left = MOST_WRONG - self._wrong
            return Let("", f"That is not the code. {left} more {'try' if left == 1 else 'tries'}.")
        if len(self._phones) >= MOST_PHONES:
            return Let("", f"{MOST_PHONES} phones are in already. Send one away at the computer first.")
        self._code = ""
        return Let(self._let_in(name), "")

    def _let_in(self, name: str) -> str:
        secret, key, now = secrets.token_urlsafe(32), secrets.token_hex(4), self._now()
        self._phones[key] = Phone(key, self._free_name(name), _digest(secret), now, now)
        self._heard_s = now
        return secret

    def _free_name(self, name: str) -> str:
        plain = " ".join("".join(letter for letter in name if letter.isprintable()).split())[:LONGEST_NAME] or "phone"
        taken, number, free = {phone.name for phone in self._phones.values()}, 2, plain
        while free in taken:
            free, number = f"{plain} {number}", number + 1
        return free

    def who(self, secret: str) -> Phone | None:
        """The phone with that secret, heard of now; every phone is compared, each in constant time."""
        found, digest = None, _digest(secret)
        for phone in self._phones.values():
            if hmac.compare_digest(phone.digest, digest):
                found = phone
        if found:
            self._heard_s = self._now()
            self._phones[found.key] = replace(found, seen_s=self._heard_s)
        return found

    def is_in(self, key: str) -> bool:
        """Whether a phone was not sent away."""
        return key in self._phones

    def heard(self) -> None:
        """A phone is still there."""
        self._heard_s = self._now()

    def send_away(self, key: str) -> bool:
        """End a phone's stay; whether it was in."""
        return self._phones.pop(key, None) is not None

    def phones(self) -> tuple[Phone, ...]:
        """The phones that are in, in the order in which they came."""
        return tuple(self._phones.values())

    @property
    def idle_left_s(self) -> float:
        """In how long the door closes by itself if nothing is heard."""
        return max(0.0, self._heard_s + IDLE_S - self._now())


def _digest(secret: str) -> bytes:
    return hashlib.sha256(secret.encode()).digest()
