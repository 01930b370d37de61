"""The command line's reader of words: what it cannot take it names, with the nearest word that it knows."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterable, Sequence
from typing import Any, NoReturn

from rushlight.errors import nearest_word

_NO_CHOICE = re.compile(r"invalid choice: '?(?P<word>.*?)'? \(choose from (?P<known>.*)\)$")


class Words(argparse.ArgumentParser):
    """Argparse's parser whose refusals name the word, what was expected and the nearest known one."""

    def parse_known_args(  # type: ignore[override]
        self, args: Sequence[str] | None = None, namespace: Any = None
    ) -> tuple[argparse.Namespace, list[str]]:
        """As argparse, but each command names its own unknown options: only it knows the right ones."""
        found, left = super().parse_known_args(args, namespace)
        if left:
            odd = next((word for word in left if word.startswith("-")), left[0])
            known = [name for action in self._actions for name in action.option_strings if name.startswith("--")]
            if not odd.startswith("-"):
                self.error(f"'{odd}' is one word too many. A name with blanks is written in quotes.")
            self.error(_refused(odd, "option of it", known))
        return found, left

    def error(self, message: str) -> NoReturn:
        """Tell what is wrong and end."""
        choice = _NO_CHOICE.search(message)
        if choice:
            known = re.findall(r"[^,'\s]+", choice["known"])
            what = "command" if "COMMAND" in message else "word for it"
            where = "" if what == "command" else message.partition(": invalid choice")[0] + ": "
            message = where + _refused(choice["word"], what, known)
        super().error(message)


def _refused(word: str, what: str, known: Iterable[str]) -> str:
    names = list(known)
    near = nearest_word(word, names)
    nearest = f" Did you mean {near}?" if near else ""
    return f"'{word}' is no {what}.{nearest} There are: {', '.join(names)}."
