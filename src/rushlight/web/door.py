"""The start page: plans opened lately, a plan's folder that is typed, the lights that the rules ask for."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlparse

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from rushlight.errors import OutOfRange
from rushlight.files._paths import PLAN_FILE, plan_home
from rushlight.files.recent import forget_plan, remembered_plans
from rushlight.model.subject_light import FOR_MODELS, RULE_DECIDES
from rushlight.open_plan import DEMOS, copy_demo
from rushlight.stages.subject_lights import as_lamp_entries, known_states
from rushlight.web.api import body_of, desk_of
from rushlight.web.asked_lights import ASKS, CHOICES, lights_of, request_of
from rushlight.web.desk import key_of
from rushlight.web.new_plan import free_folder, new_plan

LONGEST_PATH = 4000


async def start(request: Request) -> Response:
    """Recent plans and demos."""
    recent = await asyncio.to_thread(recent_json)
    home = str(desk_of(request).plans_home)
    return JSONResponse({"recent": recent, "demos": list(DEMOS), "home": home, "kinds": list(ASKS)})


async def open_demo(request: Request) -> Response:
    """A fresh copy of a demo, opened."""
    desk, body = desk_of(request), await body_of(request)
    name = str(body.get("name", ""))
    folder = free_folder(desk.plans_home, f"demo {name}")
    await asyncio.to_thread(_copy, name, folder)
    bench = await desk.open(folder)
    return JSONResponse({"id": bench.key}, 201)


def _copy(name: str, folder: Any) -> None:
    folder.parent.mkdir(parents=True, exist_ok=True)
    copy_demo(name, folder)


async def begin(request: Request) -> Response:
    """A new plan from a few answers, opened."""
    desk, body = desk_of(request), await body_of(request)
    folder = await asyncio.to_thread(new_plan, desk.plans_home, body)
    bench = await desk.open(folder)
    return JSONResponse({"id": bench.key}, 201)


async def known(request: Request) -> Response:
    """Questions and states of a kind of subject."""
    answers = await body_of(request)
    asked = request_of(answers, "")
    states = await asyncio.to_thread(known_states, asked.kind, asked.length_m, asked.propulsion)
    asks = [{"key": key, "choices": list(CHOICES.get(key, ()))} for key in ASKS.get(asked.kind, ())]
    return JSONResponse({"kind": asked.kind, "asks": asks, "states": list(states)})


async def lights(request: Request) -> Response:
    """Which lamps a plan would begin with, each with its rule."""
    answers = await body_of(request)
    found = await asyncio.to_thread(lights_of, answers)
    entries = as_lamp_entries(found, include_may=bool(answers.get("may")))
    notes = dict.fromkeys(note for _, answer in found for note in answer.notes)
    return JSONResponse({"lamps": list(entries), "notes": list(notes), "statements": [FOR_MODELS, RULE_DECIDES]})


async def typed(request: Request) -> Response:
    """A plan whose folder was typed or pasted, opened."""
    folder = await asyncio.to_thread(typed_folder, str((await body_of(request)).get("folder", "")))
    return JSONResponse({"id": (await desk_of(request).open(folder)).key}, 201)


async def forget(request: Request) -> Response:
    """A plan taken off the list of recent ones; its folder is not touched."""
    await asyncio.to_thread(forget_plan, str((await body_of(request)).get("folder", "")))
    return JSONResponse({"recent": await asyncio.to_thread(recent_json)})


def recent_json() -> list[dict[str, Any]]:
    """Plans opened lately, with what is wrong where one is not there any more."""
    return [
        {"id": key_of(plan.folder.resolve()), "title": plan.title, "folder": str(plan.folder),
         "missing": "" if plan.there else _missing(plan.folder)} for plan in remembered_plans()
    ]


def _missing(folder: Path) -> str:
    if folder.is_dir():
        return f"This folder holds no {PLAN_FILE} any more."
    return "This folder is not there any more. If you moved it, open it at its new place below."


def typed_folder(text: str) -> Path:
    """The plan's folder that somebody typed: a whole path, with or without quotes, or a file address.

    Raises
    ------
    OutOfRange
        If it is no whole path, or no plan is there. Nothing else on the disk is told.
    """
    word = text.strip().strip("\"'").strip()
    if not word or len(word) > LONGEST_PATH or "\0" in word:
        raise OutOfRange("folder", "empty or far too long" if word else "empty", "the whole path of a plan's folder")
    path = Path(unquote(urlparse(word).path)) if word.startswith("file://") else Path(word)
    try:
        path = path.expanduser()
        whole, there = path.is_absolute(), plan_home(path) / PLAN_FILE
        found = whole and there.is_file()
    except (OSError, RuntimeError, ValueError):
        whole, found = True, False
    if not whole:
        raise OutOfRange("folder", f"'{word}'", "the whole path, from the root of the disk on")
    if not found:
        raise OutOfRange("folder", f"'{word}'", f"a folder with a {PLAN_FILE} in it that you may read")
    return plan_home(path)


ROUTES = (
    Route("/api/start", start),
    Route("/api/plans", begin, methods=["POST"]),
    Route("/api/demos", open_demo, methods=["POST"]),
    Route("/api/lights/known", known, methods=["POST"]),
    Route("/api/lights", lights, methods=["POST"]),
    Route("/api/open", typed, methods=["POST"]),
    Route("/api/recent/forget", forget, methods=["POST"]),
)
"""Routes of the start page."""
