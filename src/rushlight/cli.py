"""The command line: one small function for each command. It computes nothing."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict
from itertools import zip_longest
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rushlight import __version__
from rushlight.cli_words import Words
from rushlight.errors import DocumentProblem, OutOfRange, RushlightError

if TYPE_CHECKING:
    from rushlight.edits_tried import Offer
    from rushlight.model.change import Edit
    from rushlight.model.finding import Finding
    from rushlight.open_plan import OpenPlan

WRONG_DOCUMENT = 3
"""Exit status when the plan cannot be read; findings use 10, 20, 30, 40."""

NOT_DONE = 2
"""Exit status of a command that was refused."""


def _one_thread() -> None:
    """Small matrices are solved sooner by one thread than by several that wait for each other; numpy asks once, as it
    is loaded. Who has set it has a reason."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def main(words: Sequence[str] | None = None) -> int:
    """Run one command; its exit status."""
    _speak_utf8()
    _one_thread()
    asked = parser().parse_args(words)
    if not hasattr(asked, "run"):
        parser().print_help()
        return NOT_DONE
    try:
        status: int = asked.run(asked)
    except DocumentProblem as trouble:
        for problem in trouble.problems:
            print(problem, file=sys.stderr)
        print(f"{len(trouble.problems)} problem(s); nothing was changed.", file=sys.stderr)
        return WRONG_DOCUMENT
    except RushlightError as trouble:
        print(trouble, file=sys.stderr)
        return NOT_DONE
    except BrokenPipeError:
        return NOT_DONE
    return status


def _speak_utf8() -> None:
    """Terminals with an old code page still show what they can."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure:
            reconfigure(errors="replace")


def parser() -> argparse.ArgumentParser:
    """Every command with its words."""
    words = Words(
        prog="rushlight",
        description="Plan, check and build the lighting of a scale model before it is closed for good.",
    )
    words.add_argument("--version", action="version", version=f"rushlight {__version__}")
    commands = words.add_subparsers(title="commands", metavar="COMMAND")
    for add in (_add_open, _add_check, _add_book, _add_share, _add_lights, _add_supplies, _add_bench, _add_measure,
                _add_history, _add_drawer, _add_demo):
        add(commands)
    return words


def _command(commands: Any, name: str, run: Callable[[argparse.Namespace], int], help_text: str) -> Any:
    command = commands.add_parser(name, help=help_text, description=help_text)
    command.set_defaults(run=run)
    return command


# --- open ---------------------------------------------------------------------------------------------------------


def _add_open(commands: Any) -> None:
    from rushlight.cli_open import add_arguments, open_app

    add_arguments(_command(commands, "open", open_app, "Open a plan in the app, in the browser of this computer."))


def _add_bench(commands: Any) -> None:
    from rushlight.cli_bench_words import add_arguments

    says = "Say where the fault is, from what was seen and read at the bench, and what to measure next."
    add_arguments(_command(commands, "bench", bench, says))


def bench(asked: argparse.Namespace) -> int:
    """`rushlight bench PLAN`: 0 when nothing shows, 1 when something is wrong."""
    from rushlight.cli_bench import answer

    opened = _opened(asked.plan, quiet=False)
    with progress_bar(total=1) as tell:
        tell("solving every fault")
        lines, status = answer(opened.design, asked)
    print("\n".join(lines))
    return status


def _add_measure(commands: Any) -> None:
    says = "Say which single reading at the bench would narrow the answers most, and what your readings come to."
    command = _command(commands, "measure", measure, says)
    command.add_argument("plan", type=Path, help="folder of the plan")


def measure(asked: argparse.Namespace) -> int:
    """`rushlight measure PLAN`."""
    from rushlight.sheets.readings import reading_lines

    print("\n".join(reading_lines(_opened(asked.plan, quiet=False).design)))
    return 0


# --- check --------------------------------------------------------------------------------------------------------


def _add_check(commands: Any) -> None:
    says = "Say what would go wrong, worst first. The exit status tells the worst grade."
    command = _command(commands, "check", check, says)
    command.add_argument("plan", type=Path, help="folder of the plan")
    how = command.add_mutually_exclusive_group()
    how.add_argument("--json", action="store_true", help="for programs")
    how.add_argument("--try-edits", action="store_true",
                     help="try every edit on the plan, and say what it brings: a design each")


def check(asked: argparse.Namespace) -> int:
    """`rushlight check PLAN`."""
    opened = _opened(asked.plan, quiet=asked.json)
    if asked.json:
        print(json.dumps(findings_json(opened), indent=2, allow_nan=False))
    else:
        print_findings(opened.findings, edits_of(opened), tried_of(opened) if asked.try_edits else ())
    return max((int(finding.grade) for finding in opened.findings), default=0)


def findings_json(opened: OpenPlan) -> dict[str, Any]:
    """Findings as plain data."""
    return {
        "plan": opened.design.plan.subject.title,
        "findings": [
            {**asdict(finding), "grade": finding.grade.words, "edit": asdict(edit) if edit else None}
            for finding, edit in zip(opened.findings, edits_of(opened), strict=True)
        ],
    }


def edits_of(opened: OpenPlan) -> tuple[Edit | None, ...]:
    """The one edit that cures each finding, where there is one."""
    from rushlight.findings.cures import cure_of

    return tuple(cure_of(opened.design, finding) for finding in opened.findings)


def tried_of(opened: OpenPlan) -> tuple[Offer | None, ...]:
    """What each of those edits would bring, found by making it on the plan: a whole design each."""
    from rushlight.edits_tried import tried_offer
    from rushlight.files.drawer_csv import own_folder, read_drawer
    from rushlight.files.own_values import own_values

    parts = read_drawer(own_folder())
    return tuple(tried_offer(opened.design, opened.findings, finding, lambda plan: own_values(parts, plan))
                 for finding in opened.findings)


def print_findings(
    findings: tuple[Finding, ...], edits: tuple[Edit | None, ...] = (), tried: tuple[Offer | None, ...] = ()
) -> None:
    """Findings on the terminal, worst first, each with the edit that cures it where there is one, and what that brings
    where it was tried."""
    if not findings:
        print("No findings: nothing that rushlight knows of would go wrong.")
        return
    last = None
    for finding, edit, offer in zip_longest(findings, edits, tried):
        if finding.grade is not last:
            last = finding.grade
            print(f"\n{finding.grade.words.upper()}")
        place = ""
        if finding.spot:
            place = f" [{finding.spot.part} {finding.spot.x_mm:.0f}, {finding.spot.y_mm:.0f} mm]"
        print(f"  {finding.item}{place}: {finding.says}")
        print(f"      why:  {finding.why}")
        print(f"      cure: {finding.cure}")
        if edit:
            print(f"      one edit cures it: {edit.says}")
        if offer:
            print(f"      {offer.first.says[:1].lower()}{offer.first.says[1:]}")
        if offer and offer.other:
            print(f"      instead: {offer.other.edit.says} {offer.other.says}")
        print(f"      ({finding.key})")
    print(f"\n{len(findings)} finding(s).")


def _opened(plan: Path, *, quiet: bool) -> OpenPlan:
    from rushlight.files import history
    from rushlight.open_plan import open_plan

    with progress_bar(quiet=quiet) as tell:
        opened = open_plan(plan, progress=tell)
    history.notice(plan)
    for problem in opened.read.pictures:
        print(problem, file=sys.stderr)
    return opened


@contextmanager
def progress_bar(*, quiet: bool = False, total: int = 12) -> Iterator[Callable[[str], None]]:
    """A bar that tells what is being done; nothing where the output is no terminal."""
    if quiet or not sys.stderr.isatty():
        yield lambda stage: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description:<26}"), BarColumn(), TimeElapsedColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("starting", total=total)
        yield lambda stage: bar.update(task, advance=1, description=stage)


# --- book ---------------------------------------------------------------------------------------------------------


def _add_book(commands: Any) -> None:
    says = "Write the book for the bench: PDF, tables as CSV, drawings as SVG, templates as DXF."
    command = _command(commands, "book", book, says)
    command.add_argument("plan", type=Path, help="folder of the plan")
    command.add_argument("--paper", choices=("a4", "letter"), default="a4")
    command.add_argument("--to", type=Path, default=None, help="folder to write into (default: the plan's folder book)")


def book(asked: argparse.Namespace) -> int:
    """`rushlight book PLAN`."""
    opened = _opened(asked.plan, quiet=False)
    print_findings(opened.findings)
    _write(opened, asked.to, asked.paper)
    return 0


def _write(opened: OpenPlan, target: Path | None, paper: str) -> None:
    from rushlight.open_plan import write_book

    with progress_bar(total=3) as tell:
        written = write_book(opened, target, paper=paper, progress=tell)
    print(f"\nThe book: {written.pdf}")
    print(f"Beside it {len(written.files) - 1} tables, drawings and templates.")


# --- share --------------------------------------------------------------------------------------------------------


def _add_share(commands: Any) -> None:
    command = _command(commands, "share", share, "Write one self-contained page for showing the build to others.")
    command.add_argument("plan", type=Path, help="folder of the plan")
    command.add_argument("--to", type=Path, default=None, metavar="FILE",
                         help="file to write (default: share.html in the plan's folder)")
    command.add_argument("--pictures", action="store_true",
                         help="with the pictures of the parts, drawn anew without tags (default: drawings only)")


def share(asked: argparse.Namespace) -> int:
    """`rushlight share PLAN`."""
    from rushlight.open_plan import write_share

    opened = _opened(asked.plan, quiet=False)
    with progress_bar(total=2 + len(opened.design.plan.parts)) as tell:
        written = write_share(opened, asked.to, pictures=asked.pictures, progress=tell)
    holds = f"{written.pictures} picture(s) of parts" if asked.pictures else "drawings only, no pictures"
    print(f"The page for showing: {written.page} ({written.size_bytes / 1e3:.0f} kB, {holds}).")
    print("It opens in any browser, without internet and without rushlight.")
    return 0


# --- demo ---------------------------------------------------------------------------------------------------------


def _add_demo(commands: Any) -> None:
    command = _command(commands, "demo", demo, "Copy one of the invented demos, check it and write its book.")
    command.add_argument("name", help="tug, lighthouse or lantern")
    command.add_argument("to", type=Path, help="folder for the copy")


def demo(asked: argparse.Namespace) -> int:
    """`rushlight demo NAME FOLDER`: an existing copy is used as it is."""
    from rushlight.open_plan import copy_demo

    if not (asked.to / "plan.yaml").exists():
        copy_demo(asked.name, asked.to)
        print(f"An invented demo was copied to {asked.to}")
    opened = _opened(asked.to, quiet=False)
    print_findings(opened.findings)
    _write(opened, None, "a4")
    return 0


# --- lights -------------------------------------------------------------------------------------------------------


def _add_lights(commands: Any) -> None:
    from rushlight.cli_lights import add_arguments, lights

    add_arguments(_command(commands, "lights", lights, "Which lights must this subject show? For models only."))


# --- supplies -----------------------------------------------------------------------------------------------------


def _add_supplies(commands: Any) -> None:
    from rushlight.cli_supplies import add_arguments

    says = "Work out other supplies beside the plan's own: which lasts as asked, fits, and is lightest or cheapest."
    add_arguments(_command(commands, "supplies", supplies, says))


def supplies(asked: argparse.Namespace) -> int:
    """`rushlight supplies PLAN`."""
    from rushlight.cli_supplies import answer
    from rushlight.stages.supply_trials import MOST_TRIED, STAGES_EACH, supplies_tried

    opened = _opened(asked.plan, quiet=asked.json)
    with progress_bar(quiet=asked.json, total=MOST_TRIED * STAGES_EACH) as tell:
        found = supplies_tried(opened.design, progress=tell)
    print("\n".join(answer(opened, found, asked)))
    return 0


# --- history ------------------------------------------------------------------------------------------------------


def _add_history(commands: Any) -> None:
    command = _command(commands, "history", history, "List the revisions of a plan, or bring one back.")
    command.add_argument("plan", type=Path, help="folder of the plan")
    command.add_argument("--restore", type=int, default=None, metavar="NUMBER", help="bring this revision back")


def history(asked: argparse.Namespace) -> int:
    """`rushlight history PLAN`."""
    from rushlight.files.history import notice, restore, revisions

    if not asked.plan.is_file() and not (asked.plan / "plan.yaml").is_file():
        raise OutOfRange("plan", f"'{asked.plan}'", "a folder with a plan.yaml in it")
    if asked.restore is not None:
        restore(asked.plan, asked.restore)
        print(f"Revision {asked.restore} is back; what stood before is kept as a revision of its own.")
        return 0
    notice(asked.plan)
    for row in revisions(asked.plan):
        print(f"{row.number:>5}  {row.time}  {row.what}")
    return 0


# --- drawer -------------------------------------------------------------------------------------------------------


def _add_drawer(commands: Any) -> None:
    from rushlight.cli_drawer import add_arguments, drawer

    add_arguments(_command(commands, "drawer", drawer, "List the parts that rushlight knows, or add your own."))


if __name__ == "__main__":
    sys.exit(main())
