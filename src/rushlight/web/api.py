"""The API: one small function for each route. Bodies and answers are JSON; every error has one form."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from rushlight.errors import OutOfRange, UnknownName
from rushlight.model.change import Change
from rushlight.web.desk import Bench, Desk
from rushlight.web.plain import words_json
from rushlight.web.worker import LEAVES, Job
from rushlight.working_plan import do_again, make_changes, take_back

MOST_BODY = 4_000_000
MOST_CHANGES = 5_000
ACTIONS = ("set", "add", "remove")
PAPERS = ("a4", "letter")
BEAT_S = 15.0
WAITS = "The plan is still being worked out."


# --- start --------------------------------------------------------------------------------------------------------


async def words(request: Request) -> Response:
    """What the keys of a plan's items may hold."""
    return JSONResponse(words_json())


# --- a plan -------------------------------------------------------------------------------------------------------


async def plan(request: Request) -> Response:
    """The plan, its lamps in their places, what can be taken back."""
    return await _state(await bench_of(request), request.query_params.get("holds", ""))


async def changes(request: Request) -> Response:
    """Change items and save, as one step."""
    bench, body = await bench_of(request), await body_of(request)
    made = _changes(body)
    seen, what = str(body.get("revision", "")), str(body.get("what", "changed"))[:120]
    await desk_of(request).change(bench, lambda working: make_changes(working, made, seen=seen, what=what))
    return await _state(bench, str(body.get("holds", "")))


async def undo(request: Request) -> Response:
    """Take back the last step."""
    bench = await bench_of(request)
    await desk_of(request).change(bench, take_back)
    return await _state(bench, request.query_params.get("holds", ""))


async def redo(request: Request) -> Response:
    """Do the last undone step again."""
    bench = await bench_of(request)
    await desk_of(request).change(bench, do_again)
    return await _state(bench, request.query_params.get("holds", ""))


async def answer(request: Request) -> Response:
    """All that follows from the plan as it stands; 202 with the stage while it is being worked out."""
    bench = await bench_of(request)
    revision = bench.current.revision
    if bench.answer and bench.answered == revision:
        return Response(bench.answer, media_type="application/json")
    return JSONResponse({"revision": revision, "stage": bench.stage, "failed": bench.failed}, 202)


async def sheets(request: Request) -> Response:
    """Tables and drawings of one leaf, of the revision that they name."""
    bench, leaf = await bench_of(request), request.path_params["leaf"]
    if leaf not in LEAVES:
        raise UnknownName("leaf", leaf, LEAVES)
    return await following(request, Job("sheets", str(bench.folder), leaf))


async def following(request: Request, job: Job) -> Response:
    """What a job draws from the answer; 202 while there is none of this revision: asked for again when it has come."""
    bench = await bench_of(request)
    if bench.answered != bench.current.revision:
        return JSONResponse({"waits": WAITS}, 202)
    done = await desk_of(request).ask(bench, job, bench.current.revision)
    if done.kind == "overtaken":
        return JSONResponse({"waits": done.data}, 202)
    if done.kind != "done":
        raise HTTPException(409, done.data)
    return Response(done.data, media_type="application/json")


async def events(request: Request) -> Response:
    """What happens to the plan, as it happens (server-sent events)."""
    bench = await bench_of(request)
    return StreamingResponse(_told(bench), media_type="text/event-stream")


async def _told(bench: Bench) -> AsyncIterator[str]:
    queue: asyncio.Queue[dict[str, Any]] = asyncio.Queue()
    bench.listeners.add(queue)
    try:
        yield _event({"event": "hello", "revision": bench.current.revision, "stage": bench.stage})
        while not bench.ended or not queue.empty():
            try:
                event = await asyncio.wait_for(queue.get(), BEAT_S)
            except TimeoutError:
                yield ": beat\n\n"
                continue
            yield _event(event)
            if event["event"] == "bye":
                return
    finally:
        bench.listeners.discard(queue)


def _event(event: dict[str, Any]) -> str:
    return f"data: {json.dumps(event)}\n\n"


# --- the book -----------------------------------------------------------------------------------------------------


async def make_book(request: Request) -> Response:
    """Write the book; its progress is told as events."""
    bench, body = await bench_of(request), await body_of(request)
    paper = str(body.get("paper", "a4"))
    if paper not in PAPERS:
        raise OutOfRange("paper", repr(paper), "a4 or letter")
    done = await desk_of(request).ask(bench, Job("book", str(bench.folder), paper), bench.current.revision)
    if done.kind == "overtaken":
        return JSONResponse({"stopped": True, "says": "Stopped. An older book, if there is one, is as it was."})
    if done.kind != "done":
        raise HTTPException(409, done.data)
    bench.book = json.loads(done.data)
    return JSONResponse({**bench.book, "fresh": bench.book["revision"] == bench.current.revision})


async def stop_book(request: Request) -> Response:
    """Stop the book that is being written; nothing where none is."""
    bench, _ = await bench_of(request), await body_of(request)
    bench.worker.drop("book")
    return JSONResponse({"stopped": True})


async def book(request: Request) -> Response:
    """The book as last written."""
    bench = await bench_of(request)
    path = bench.folder / "book" / f"book-{request.path_params['paper']}.pdf"
    if request.path_params["paper"] not in PAPERS or not path.is_file():
        raise HTTPException(404, "The book was not written yet.")
    return FileResponse(path, media_type="application/pdf", content_disposition_type="inline")


# --- helpers ------------------------------------------------------------------------------------------------------


def desk_of(request: Request) -> Desk:
    """The server's desk."""
    desk: Desk = request.app.state.desk
    desk.used()
    return desk


async def bench_of(request: Request) -> Bench:
    """The plan that the address names; behind the door to the network the one that it was opened for."""
    inside = getattr(request.app.state, "inside", None)
    if inside is not None:
        bench: Bench = inside.bench
        return bench
    return await desk_of(request).bench(request.path_params["plan"])


async def body_of(request: Request) -> dict[str, Any]:
    """The body as an object.

    Raises
    ------
    HTTPException
        415 for another kind of body, 413 for one that is too long, 400 for one that cannot be read.
    """
    if request.headers.get("content-type", "").split(";")[0].strip() != "application/json":
        raise HTTPException(415, "The body must be JSON.")
    data = b""
    async for chunk in request.stream():
        data += chunk
        if len(data) > MOST_BODY:
            raise HTTPException(413, f"The body is longer than {MOST_BODY / 1e6:.0f} MB.")
    try:
        body = json.loads(data or b"{}", parse_constant=_refused)
    except (ValueError, RecursionError):
        raise HTTPException(400, "The body is not JSON that can be read.") from None
    if not isinstance(body, dict):
        raise HTTPException(400, "The body must be a JSON object.")
    return body


def _refused(word: str) -> Any:
    raise ValueError(word)


def _changes(body: dict[str, Any]) -> tuple[Change, ...]:
    rows = body.get("changes")
    fits = isinstance(rows, list) and 0 < len(rows) <= MOST_CHANGES and all(isinstance(row, dict) for row in rows)
    if not fits or rows is None:
        raise OutOfRange("changes", type(rows).__name__, f"a list of 1 to {MOST_CHANGES} changes")
    return tuple(_change(row) for row in rows)


def _change(row: dict[str, Any]) -> Change:
    action, values = row.get("action"), row.get("values", {})
    if action not in ACTIONS or not isinstance(values, dict):
        raise OutOfRange("action of a change", repr(action), "set, add or remove, with its values")
    kind, name, inner_list, inner = (str(row.get(key) or "") for key in ("kind", "name", "list", "item"))
    before = str(row.get("before") or "") or None
    return Change(action, kind, name, values, before, inner_list=inner_list, inner=inner)


async def _state(bench: Bench, holds: str = "") -> Response:
    if bench.warm is not None and not bench.warm.done():
        await asyncio.wait([bench.warm])
    told = JSONResponse(await asyncio.to_thread(bench.state, holds))
    bench.shown.set()
    return told


PLAN = "/api/plans/{plan}"

ROUTES = (
    Route("/api/words", words),
    Route(PLAN, plan),
    Route(PLAN + "/changes", changes, methods=["POST"]),
    Route(PLAN + "/undo", undo, methods=["POST"]),
    Route(PLAN + "/redo", redo, methods=["POST"]),
    Route(PLAN + "/answer", answer),
    Route(PLAN + "/sheets/{leaf}", sheets),
    Route(PLAN + "/events", events),
    Route(PLAN + "/book", make_book, methods=["POST"]),
    Route(PLAN + "/book/stop", stop_book, methods=["POST"]),
    Route(PLAN + "/book/{paper}.pdf", book),
)
"""Routes of an open plan; those that its page does not ask for at first stand in modules of their own."""
