"""What `rushlight bench` takes; apart from what it does, so that no other command waits for that."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

FOUND = ("read", "volts", "dark", "dim", "lit", "beside", "ohms", "diode", "fine")
"""Words that say what was found."""


def add_arguments(command: argparse.ArgumentParser) -> None:
    """The words of `rushlight bench`."""
    command.add_argument("plan", type=Path, help="folder of the plan")
    command.add_argument("--read", action="append", default=[], metavar="'WHAT=NUMBER'",
                         help="a reading as a gate names it: 'supply current, under way=85'")
    command.add_argument("--volts", action="append", default=[], metavar="'STATE: PLACE to PLACE=NUMBER'",
                         help="a voltage between two places: 'under way: SA1 to bay R=4.1'")
    command.add_argument("--dark", action="append", default=[], metavar="'STATE: LAMP, LAMP'",
                         help="every lamp that is dark in a state though it should be lit")
    command.add_argument("--dim", action="append", default=[], metavar="'STATE: LAMP, LAMP'",
                         help="lamps that are much dimmer than their like")
    command.add_argument("--lit", action="append", default=[], metavar="'STATE: LAMP, LAMP'",
                         help="every lamp that is lit in a state though it should be dark")
    command.add_argument("--beside", action="append", default=[], metavar="'STATE: LAMP dimmer than LAMP'",
                         help="two lamps meant to be alike: dimmer than, as bright as, brighter than")
    command.add_argument("--ohms", action="append", default=[], metavar="'STATE: PLACE to PLACE=NUMBER'",
                         help="resistance with the supply taken off, or OL")
    command.add_argument("--diode", action="append", default=[], metavar="'STATE: PLACE to PLACE=NUMBER'",
                         help="diode test with the supply taken off, red probe first, in V, or OL")
    command.add_argument("--fine", action="append", default=[], metavar="STATE",
                         help="a state in which all is as it should be")
    command.add_argument("--mended", action=_Mended, type=int, metavar="NUMBER",
                         help="after what you found: number NUMBER of the answer was mended, and it is still wrong; "
                              "what you say after this word was found since")
    command.add_argument("--no-meter", action="store_true",
                         help="by eye alone: the whole test while nothing is seen, else looks and comparisons")
    command.add_argument("--closed", action="store_true", help="the model is closed: only the bay can be reached")
    command.add_argument("--table", type=Path, metavar="FILE.csv",
                         help="write what every fault would show in every state, and stop")
    command.add_argument("--only-these", action="store_true", help="leave out the readings that the plan's log holds")


class _Mended(argparse.Action):
    """Sets what was said so far aside, as found before a mend."""

    def __call__(self, parser: object, asked: argparse.Namespace, value: Any, option: object = None) -> None:
        said = {name: list(getattr(asked, name)) for name in FOUND}
        asked.mended = [*(asked.mended or []), (argparse.Namespace(**said), value)]
        for name in FOUND:
            setattr(asked, name, [])
