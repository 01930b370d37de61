"""`rushlight lights`: what must this subject show? Answered, put into a plan, or checked against one."""

from __future__ import annotations

import argparse
import json
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rushlight.errors import UnknownName
from rushlight.model.subject_light import FOR_MODELS, RULE_DECIDES

if TYPE_CHECKING:
    from rushlight.model.subject_light import RequiredLamp, SubjectLights


def add_arguments(command: Any) -> None:
    """Words of the command."""
    command.add_argument("kind", help="ship, aircraft, road, rail, obstruction, sea mark, airfield")
    command.add_argument("--state", action="append", default=None, help="state; more than one may be given")
    command.add_argument("--length", type=float, default=None, metavar="M", help="length of the subject in metres")
    command.add_argument("--breadth", type=float, default=None, metavar="M", help="breadth of the subject in metres")
    command.add_argument("--height", type=float, default=None, metavar="M", help="height of the subject in metres")
    command.add_argument("--tow", type=float, default=None, metavar="M", help="length of the tow in metres")
    command.add_argument("--speed", type=float, default=None, metavar="KN", help="speed in knots")
    command.add_argument("--propulsion", default="power", help="power, sailing, oars, being towed, air cushion")
    command.add_argument("--moving", default="making way", help="making way, not making way, at anchor")
    command.add_argument("--region", default="A", help="A or B, for sea marks")
    command.add_argument("--scheme", default="ICAO", help="ICAO or FAA, for obstructions")
    command.add_argument("--into", type=Path, default=None, metavar="PLAN", help="put them into this plan as lamps")
    command.add_argument("--may", action="store_true", help="with --into: also those that the rule only allows")
    command.add_argument("--check", type=Path, default=None, metavar="PLAN", help="check this plan against the rule")
    command.add_argument("--json", action="store_true", help="for programs")


def lights(asked: argparse.Namespace) -> int:
    """`rushlight lights KIND`."""
    if asked.check is not None:
        return _check(asked)
    if not asked.state:
        return _states(asked)
    answers = [(state, _answer(asked, state)) for state in asked.state]
    if asked.json:
        print(json.dumps([asdict(answer) for _, answer in answers], indent=2))
    else:
        for _, answer in answers:
            _print(answer)
        _print_scope()
    return _into(asked, answers) if asked.into is not None else 0


def _states(asked: argparse.Namespace) -> int:
    from rushlight.stages.subject_lights import known_states

    names = known_states(asked.kind, asked.length, asked.propulsion)
    print("States known for it (give one with --state):")
    for name in names:
        print(f"  {name}")
    _print_scope()
    return 0


def _answer(asked: argparse.Namespace, state: str) -> SubjectLights:
    from rushlight.model.subject_light import SubjectRequest
    from rushlight.stages.subject_lights import required_lights

    return required_lights(
        SubjectRequest(
            kind=asked.kind, state=state, length_m=asked.length, propulsion=asked.propulsion,
            breadth_m=asked.breadth, tow_length_m=asked.tow, speed_kn=asked.speed, height_m=asked.height,
            moving=asked.moving, region=asked.region, scheme=asked.scheme,
        )
    )


def _print(answer: SubjectLights) -> None:
    print(f"\n{answer.request.kind}, {answer.state}")
    for lamp in answer.lamps:
        print(f"  {lamp.count} x {_lamp_line(lamp)}")
        for rule in lamp.placement:
            print(f"        {rule.quantity}: {_limits(rule.minimum, rule.maximum, rule.unit)} {rule.text}".rstrip())
        print(f"        {lamp.source}")
    for note in answer.notes:
        print(f"  note: {note}")


def _lamp_line(lamp: RequiredLamp) -> str:
    arc = ""
    if lamp.bearing_from_deg is not None and lamp.bearing_to_deg is not None:
        arc = f", {lamp.arc_deg:g} deg from {lamp.bearing_from_deg:g} to {lamp.bearing_to_deg:g}"
    far = f", seen at {lamp.range_nmi:g} nautical miles" if lamp.range_nmi else ""
    strong = f", {lamp.intensity_cd:g} cd" if lamp.intensity_cd else ""
    rhythm = f", {lamp.rhythm}" if lamp.rhythm != "steady" else ""
    where = f"; {lamp.where}" if lamp.where else ""
    return f"{lamp.name} ({lamp.requirement}): {lamp.colour}{arc}{rhythm}{far}{strong}{where}"


def _limits(minimum: float | None, maximum: float | None, unit: str) -> str:
    if minimum is not None and maximum is not None:
        return f"{minimum:g} to {maximum:g} {unit}."
    if minimum is not None:
        return f"at least {minimum:g} {unit}."
    return f"at most {maximum:g} {unit}." if maximum is not None else ""


def _print_scope() -> None:
    print(f"\n{FOR_MODELS}\n{RULE_DECIDES}")


def _into(asked: argparse.Namespace, answers: list[tuple[str, SubjectLights]]) -> int:
    from rushlight.files.drawer_csv import own_folder, read_drawer
    from rushlight.files.plan_edit import add_lamps
    from rushlight.files.plan_yaml import read_plan
    from rushlight.stages.subject_lights import as_lamp_entries

    drawer = read_drawer(own_folder())
    known = {name for state in read_plan(asked.into, drawer).plan.states for name in (state.name, state.rule) if name}
    for state, _ in answers:
        if state.casefold() not in {name.casefold() for name in known}:
            raise UnknownName("state of this plan (add it under states first, with its rule)", state, known)
    entries = as_lamp_entries(answers, include_may=asked.may)
    added = add_lamps(asked.into, entries, drawer)
    if not added:
        print(f"\nNothing was put into {asked.into}: all of them stand in the plan already.")
        return 0
    counted = "1 lamp was" if len(added) == 1 else f"{len(added)} lamps were"
    print(f"\n{counted} put into {asked.into}: {', '.join(added)}")
    print("Give each its part and place, and look at where it faces.")
    return 0


def _check(asked: argparse.Namespace) -> int:
    from rushlight.files.drawer_csv import own_folder, read_drawer
    from rushlight.files.plan_yaml import read_plan
    from rushlight.stages.rule_check import differences

    plan = read_plan(asked.check, read_drawer(own_folder())).plan
    found = [(state, row) for state, rows in differences(plan) for row in rows]
    for state, row in found:
        lamp = f" '{row.lamp}'" if row.lamp else ""
        print(f"{state}: {row.kind}: {row.rule_key}{lamp}: expected {row.expected}; found {row.found or 'none'}")
        print(f"    {row.rule}")
    if not found:
        print("The plan agrees with the rule in every state that names one.")
    _print_scope()
    return 1 if found else 0
