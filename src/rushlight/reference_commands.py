"""Reference page made from the code: every command with its words, and what its exit status means."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path

from rushlight.cli import NOT_DONE, WRONG_DOCUMENT, parser
from rushlight.model.finding import Grade

WIDTH = 110
"""Longest line of a usage [characters]."""

_INTRO = """\
# The commands

Made from the code; do not edit. `rushlight COMMAND --help` says the same on the terminal. Words in capitals are yours
to fill in; words in square brackets may be left out. A word of yours with a space in it goes into quotation marks.
"""


def commands_reference() -> str:
    """The page docs/generated/commands.md: every command, each of its words, and the exit statuses.

    Returns
    -------
    str
        Markdown, the same for the same code; it does not hang on the terminal's width.
    """
    chapters = [_chapter(name, command) for name, command in commands().items()]
    return "\n".join([_INTRO, *chapters, _statuses()])


def commands() -> dict[str, argparse.ArgumentParser]:
    """Every command's own parser by its name, in the order of the help.

    Returns
    -------
    dict
        Name of the command to its parser.
    """
    return {
        name: command
        for action in parser()._actions
        if isinstance(action, argparse._SubParsersAction)
        for name, command in action.choices.items()
    }


def _chapter(name: str, command: argparse.ArgumentParser) -> str:
    words = list(_words(command))
    usage = _lines(["rushlight", name, *(_in_usage(action) for action in words)])
    head = [f"## {name}", "", str(command.description), "", *usage, "", "| word | means |", "| --- | --- |"]
    return "\n".join([*head, *(_row(action) for action in words)]) + "\n"


def _lines(pieces: list[str]) -> list[str]:
    """The pieces in lines of code, never broken inside a piece."""
    lines = ["   "]
    for piece in pieces:
        if len(lines[-1]) + len(piece) > WIDTH:
            lines.append("       ")
        lines[-1] += f" {piece}"
    return lines


def _words(command: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    """The command's own words: those that stand alone first."""
    own = [action for action in command._actions if not isinstance(action, argparse._HelpAction)]
    yield from (action for action in own if not action.option_strings)
    yield from (action for action in own if action.option_strings)


def _in_usage(action: argparse.Action) -> str:
    if action.option_strings:
        return f"[{_option(action)}]"
    name = action.dest.upper()
    return {"?": f"[{name}]", "*": f"[{name} ...]"}.get(str(action.nargs), name)


def _option(action: argparse.Action) -> str:
    """An option with what follows it."""
    if action.nargs == 0:
        return action.option_strings[0]
    more = " ..." if action.nargs == "+" else ""
    return f"{action.option_strings[0]} {action.metavar or action.dest.upper()}{more}"


def _row(action: argparse.Action) -> str:
    word = _option(action) if action.option_strings else action.dest.upper()
    says = action.help or f"one of {', '.join(action.choices or ())}"
    usual = "" if action.default in (None, False, ()) or not action.option_strings else f" (usually {action.default})"
    return f"| `{word}` | {says}{usual} |"


def _statuses() -> str:
    grades = [f"| {grade.value} | `check`: the worst finding is '{grade.words}' |" for grade in Grade]
    return "\n".join([
        "## Exit status", "", "| status | means |", "| --- | --- |",
        "| 0 | done; of `check`: no findings |",
        "| 1 | `lights --check`: the plan differs from the rule |",
        f"| {NOT_DONE} | refused: a word is not known, or a file stands in the way; nothing was changed |",
        f"| {WRONG_DOCUMENT} | the plan or a table of your own cannot be read; every problem was told |",
        *grades,
    ]) + "\n"


def write_page(folder: Path) -> Path:
    """Write the page anew; its path is returned."""
    path = folder / "commands.md"
    path.write_text(commands_reference(), encoding="utf-8", newline="\n")
    return path


if __name__ == "__main__":
    write_page(Path("docs/generated"))
