"""The bench: what to do, what is done, and acts that change it. The app and the phones ask the same."""

from __future__ import annotations

import asyncio
import io
import json
import time
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from rushlight.bench_log import LONGEST_WORD, Act, Needs, take_act
from rushlight.errors import OutOfRange
from rushlight.files.pictures import open_picture
from rushlight.stages.fault_names import FIND_STEP, FIND_TITLE, MENDED, Named, probe_named
from rushlight.web.api import PLAN, bench_of, body_of, desk_of
from rushlight.web.desk import Bench, Desk
from rushlight.web.pictures_api import check_file, kept_picture
from rushlight.web.plain import plain
from rushlight.web.worker import Job
from rushlight.working_plan import WorkingPlan

MOST_ACTS = 200
FIND_KINDS = ("look", "unlook", "read", "mended")
MOST_REMEMBERED = 5_000
LONGEST_NAME = 400
SEEN_PX = 1200
HERE = "this computer"
OWN = ("meters", "find")
"""What is known for the server's own use, or asked for piece by piece."""


async def bench_page(request: Request) -> Response:
    """Steps, pieces, lamps, titles of drawings; 202 while nothing is worked out yet."""
    bench = await bench_of(request)
    known = await known_of(desk_of(request), bench)
    if known is None:
        return JSONResponse({"stage": bench.stage, "failed": bench.failed}, 202)
    light = [{key: value for key, value in row.items() if key != "svg"} for row in known["drawings"]]
    shown = {key: value for key, value in known.items() if key not in OWN}
    return JSONResponse({**shown, "drawings": light, **log_json(bench)})


async def bench_drawing(request: Request) -> Response:
    """One drawing of the loom."""
    bench, number = await bench_of(request), int(request.path_params["number"])
    known = await known_of(desk_of(request), bench)
    if known is None or number >= len(known["drawings"]):
        raise HTTPException(404, "There is no such drawing.")
    return JSONResponse(known["drawings"][number])


async def bench_meter(request: Request) -> Response:
    """The meter as it is set for one reading of a gate."""
    bench, number = await bench_of(request), int(request.path_params["number"])
    known = await known_of(desk_of(request), bench)
    drawn = known.get("meters", {}).get(request.path_params["step"], []) if known else []
    if number >= len(drawn):
        raise HTTPException(404, "There is no such reading.")
    return JSONResponse(drawn[number])


async def bench_fault(request: Request) -> Response:
    """Where the fault is, from what the log holds; `now` is false where newer readings are still being worked in."""
    bench = await bench_of(request)
    found = await fault_of(desk_of(request), bench)
    if found is None:
        return JSONResponse({"stage": bench.stage, "failed": bench.failed}, 202)
    return JSONResponse({**found, "now": found["of"] == bench.current.revision, **log_json(bench)})


async def bench_log(request: Request) -> Response:
    """What is done so far."""
    return JSONResponse(log_json(await bench_of(request)))


async def bench_acts(request: Request) -> Response:
    """Enter acts in their order; each is answered on its own, and one that was taken before is not taken again."""
    return await take_acts(request, HERE)


async def take_acts(request: Request, by: str) -> Response:
    """Enter acts that a device sends."""
    bench, body, desk = await bench_of(request), await body_of(request), desk_of(request)
    acts = [(str(row.get("id", ""))[:64], row) for row in _rows(body)]
    known = await known_of(desk, bench)
    if known is None:
        raise HTTPException(409, "The plan is still being worked out; it is kept and sent again.")
    results: list[dict[str, Any]] = []

    def enter(working: WorkingPlan) -> WorkingPlan:
        for key, row in acts:
            if key and key in bench.taken:
                results.append({"id": key, "refused": ""})
                continue
            taken = _entered(working, row, by, known)
            working = taken[0]
            results.append({"id": key, "refused": taken[1]})
            if key:
                bench.taken[key] = None
        return working

    await desk.change(bench, enter)
    for key in list(bench.taken)[:-MOST_REMEMBERED]:
        del bench.taken[key]
    return JSONResponse({"results": results, **log_json(bench)})


# --- photographs --------------------------------------------------------------------------------------------------


async def bench_photo(request: Request) -> Response:
    """Keep a photograph of a step; query: `step`, `part`, `name`, `at_ms`; body: the file."""
    return await take_photo(request, HERE)


async def take_photo(request: Request, by: str) -> Response:
    """Keep a photograph that a device sends, and enter it at its step."""
    bench, asked, desk = await bench_of(request), request.query_params, desk_of(request)
    known = await known_of(desk, bench)
    if known is None:
        raise HTTPException(409, "The plan is still being worked out; send it again in a moment.")
    check_file(request)
    row = {"kind": "photo", "step": asked.get("step", ""), "part": asked.get("part") or None}
    act = act_of(row, by, known, now_s=time.time())
    facts = await kept_picture(request, bench, asked.get("name", "photo")[:LONGEST_NAME])
    refused: list[str] = []

    def enter(working: WorkingPlan) -> WorkingPlan:
        taken = take_act(working, replace(act, file=facts.file), needs_of(known))
        refused.append(taken.refused)
        return taken.working

    await desk.change(bench, enter)
    if refused[0]:
        raise HTTPException(422, refused[0])
    return JSONResponse(log_json(bench), 201)


async def bench_seen(request: Request) -> Response:
    """A photograph that the log names, small enough for a phone; no other picture of the plan."""
    bench, file = await bench_of(request), request.path_params["file"]
    if file not in {row.photo for row in bench.current.plan.as_built}:
        raise HTTPException(404, "The log names no such photograph.")
    return Response(await asyncio.to_thread(_small, bench, file), media_type="image/jpeg")


def _small(bench: Bench, file: str) -> bytes:
    out = io.BytesIO()
    open_picture(bench.folder, file, longest_px=SEEN_PX).save(out, "JPEG", quality=84)
    return out.getvalue()


def _entered(working: WorkingPlan, row: Mapping[str, Any], by: str, known: dict[str, Any]) -> tuple[WorkingPlan, str]:
    try:
        act = act_of(row, by, known, now_s=time.time())
    except OutOfRange as error:
        return working, str(error)
    taken = take_act(working, act, needs_of(known))
    return taken.working, taken.refused


def log_json(bench: Bench) -> dict[str, Any]:
    """The log with the revision that it stands in."""
    working = bench.current
    return {
        "revision": working.revision, "log": [plain(row) for row in working.plan.as_built],
        "undo": working.steps.undo, "stage": bench.stage, "failed": bench.failed,
    }


# --- what is known of the design ----------------------------------------------------------------------------------


async def known_of(desk: Desk, bench: Bench) -> dict[str, Any] | None:
    """What a bench needs of the newest design; an older one while a newer is worked out; None before the first."""
    if bench.answer and bench.answered == bench.current.revision and bench.known.get("of") != bench.answered:
        revision = bench.answered
        done = await desk.ask(bench, Job("bench", str(bench.folder)), revision)
        if done.kind == "done":
            told = await asyncio.to_thread(json.loads, done.data)
            bench.known = {**told, "of": told.pop("revision")}
    return bench.known or None


async def fault_of(desk: Desk, bench: Bench) -> dict[str, Any] | None:
    """The answer to where the fault is; kept until a reading or the plan changes, None before the first design."""
    async with bench.asking:  # several devices that ask at once get one answer
        if bench.answer and bench.answered == bench.current.revision and bench.suspected.get("of") != bench.answered:
            done = await desk.ask(bench, Job("fault", str(bench.folder)), bench.answered)
            if done.kind == "done":
                told = await asyncio.to_thread(json.loads, done.data)
                bench.suspected = {**told, "of": told.pop("revision")}
        return bench.suspected or None


def needs_of(known: Mapping[str, Any]) -> Needs:
    """Readings that each gate asks for."""
    return {
        (step["key"], step["part"]): tuple(row["name"] for row in step["readings"])
        for step in known["steps"] if step["kind"] == "gate"
    }


# --- an act as it comes -------------------------------------------------------------------------------------------


def _rows(body: Mapping[str, Any]) -> list[dict[str, Any]]:
    rows = body.get("acts")
    if not isinstance(rows, list) or not 0 < len(rows) <= MOST_ACTS or not all(isinstance(row, dict) for row in rows):
        raise OutOfRange("acts", type(rows).__name__, f"a list of 1 to {MOST_ACTS} acts")
    return rows


def act_of(row: Mapping[str, Any], by: str, known: Mapping[str, Any], *, now_s: float) -> Act:
    """The act that a device sends, if it speaks of a step or a piece of this build.

    Raises
    ------
    OutOfRange
        If it does not, or a value is of the wrong kind.
    """
    kind, step, part = str(row.get("kind", "")), str(row.get("step", "")), row.get("part")
    title = _title(kind, step, part, known)
    dark, dim, lit = (_lamps(row, key, known) for key in ("dark", "dim", "lit"))
    return Act(
        kind=kind, step=step, part=None if part is None else str(part), when=local_time(row.get("at_ms"), now_s),
        by=by, how=str(row.get("how", "done")), note=str(row.get("note", ""))[:LONGEST_WORD],
        what=_what(row, step, known), value=_number(row, "value"), length_mm=_number(row, "length_mm"),
        seen=tuple(value for value in row.get("seen") or () if _is_number(value)), says=title,
        dark=dark, dim=tuple(name for name in dim if name not in dark), lit=lit,
    )


def _title(kind: str, step: str, part: Any, known: Mapping[str, Any]) -> str:
    if step == FIND_STEP and part is None and kind in FIND_KINDS:
        return FIND_TITLE
    if kind in ("cut", "uncut"):
        if step not in {piece["piece"] for piece in known["pieces"]}:
            raise OutOfRange("piece", f"'{step}'", "a lead, tail or tube of the cut list as it is now")
        return step
    found = next((row for row in known["steps"] if row["key"] == step and row["part"] == part), None)
    if found is None:
        raise OutOfRange("step", f"'{step}'", "a step of the order of work as it is now")
    return str(found["title"])


def _what(row: Mapping[str, Any], step: str, known: Mapping[str, Any]) -> str:
    """The reading's name, if the gate asks for it."""
    what = str(row.get("what", ""))[:LONGEST_NAME]
    if step == FIND_STEP:
        return _found_at(what, str(row.get("kind")), known)
    names = [reading["name"] for found in known["steps"] if found["key"] == step for reading in found["readings"]]
    if row.get("kind") == "read" and what not in names:
        raise OutOfRange("reading", f"'{what[:LONGEST_WORD]}'", "one of the readings of this gate as it is now")
    return what


def _found_at(what: str, kind: str, known: Mapping[str, Any]) -> str:
    """The state of a look, or the name of a reading that is proposed on the way to a fault."""
    find = known.get("find", {"states": [], "resistors": {}, "places": []})
    names = Named(tuple(find["states"]), find["resistors"], frozenset(find["places"]))
    if kind in ("look", "unlook") and what not in names.states:
        raise OutOfRange("state", f"'{what}'", "a state of the plan as it is now")
    if kind == "read" and not what.startswith(MENDED) and probe_named(what, names) is None:
        raise OutOfRange("reading", f"'{what}'", "a measurement in the loom as it is now")
    return what


def _lamps(row: Mapping[str, Any], key: str, known: Mapping[str, Any]) -> tuple[str, ...]:
    found = row.get(key)
    if not found:
        return ()
    lamps = {lamp["name"] for lamp in known["lamps"]}
    strange = [name for name in found if name not in lamps] if isinstance(found, list) else [found]
    if strange:
        raise OutOfRange(f"{key} lamp", repr(strange[0])[:40], "a lamp of the plan as it is now")
    return tuple(dict.fromkeys(found))


def _number(row: Mapping[str, Any], key: str) -> float | None:
    value = row.get(key)
    if value is not None and not _is_number(value):
        raise OutOfRange(key, repr(value)[:40], "a number")
    return None if value is None else float(value)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) <= 1e9


def local_time(at_ms: Any, now_s: float) -> str:
    """When it was done, in this computer's time; a device's clock that runs ahead is not believed."""
    given_s = at_ms / 1000 if _is_time(at_ms) else now_s
    return time.strftime("%Y-%m-%d %H:%M:%S", time.localtime(min(given_s, now_s)))


def _is_time(at_ms: Any) -> bool:
    return isinstance(at_ms, int | float) and not isinstance(at_ms, bool) and 0 < at_ms < 1e14


ROUTES = (
    Route(PLAN + "/bench", bench_page),
    Route(PLAN + "/bench/log", bench_log),
    Route(PLAN + "/bench/acts", bench_acts, methods=["POST"]),
    Route(PLAN + "/bench/photo", bench_photo, methods=["POST"]),
    Route(PLAN + "/bench/photo/{file:path}", bench_seen),
    Route(PLAN + "/bench/drawings/{number:int}", bench_drawing),
    Route(PLAN + "/bench/meters/{step}/{number:int}", bench_meter),
    Route(PLAN + "/bench/fault", bench_fault),
)
"""The bench of a plan, for the app."""
