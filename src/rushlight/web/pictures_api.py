"""Routes for pictures: handed in, looked at in their own pixels, made a gauge."""

from __future__ import annotations

import asyncio
import hashlib
import io
from pathlib import Path
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from rushlight.errors import OutOfRange, UnknownName
from rushlight.files.keep_picture import Incoming
from rushlight.files.pictures import MOST_BYTES, PictureFacts, open_picture, picture_facts, picture_stamp
from rushlight.model.change import Change
from rushlight.web.api import PLAN, bench_of, body_of, desk_of
from rushlight.web.desk import Bench
from rushlight.web.gauge import gauge_json
from rushlight.working_plan import make_changes

AS = ("keep", "part", "reference")
HELD_BACK = 1_000_000
PHOTO_PX = 4096
KEPT = {"Cache-Control": "private, max-age=31536000, immutable"}


async def hand_in(request: Request) -> Response:
    """Keep a picture in the plan's pictures/ and, if asked, put it on a part or among the references, as one step.

    Query: `name` (the file's own), `as` (keep, part, reference), `item` (the part's name), `revision`. Body: the file.
    """
    bench, asked = await bench_of(request), request.query_params
    how, item, name = asked.get("as", "keep"), asked.get("item", ""), asked.get("name", "picture")[:400]
    _check(request, bench, how, item)
    facts = await kept_picture(request, bench, name)
    changes = _changes(bench, how, item, facts, name)
    if changes:
        seen, what = asked.get("revision") or bench.current.revision, _what(how, item, facts)
        await desk_of(request).change(bench, lambda working: make_changes(working, changes, seen=seen, what=what))
    state = await asyncio.to_thread(bench.state)
    return JSONResponse({**state, "kept": _facts_json(bench, facts)}, 201)


def _check(request: Request, bench: Bench, how: str, item: str) -> None:
    """What can be refused before a byte is read."""
    check_file(request)
    if how not in AS:
        raise OutOfRange("as", repr(how), "keep, part or reference")
    names = [part.name for part in bench.current.plan.parts]
    if how == "part" and item not in names:
        raise UnknownName("part", item, names)


def check_file(request: Request) -> None:
    """A body that is no file, or is too large by its own word, is refused."""
    if request.headers.get("content-type", "").split(";")[0].strip() != "application/octet-stream":
        raise HTTPException(415, "The body must be the file itself (application/octet-stream).")
    if int(request.headers.get("content-length") or 0) > MOST_BYTES:
        raise HTTPException(413, f"The file is larger than {MOST_BYTES / 1e6:.0f} MB.")


async def kept_picture(request: Request, bench: Bench, name: str) -> PictureFacts:
    """The body, checked and kept in the plan's pictures/."""
    coming = await asyncio.to_thread(Incoming, bench.folder, name)
    with coming:
        waiting = bytearray()
        async for chunk in request.stream():
            waiting += chunk
            if len(waiting) >= HELD_BACK:
                await asyncio.to_thread(coming.add, bytes(waiting))
                waiting.clear()
        await asyncio.to_thread(coming.add, bytes(waiting))
        return await asyncio.to_thread(coming.keep)


def _changes(bench: Bench, how: str, item: str, facts: PictureFacts, name: str) -> tuple[Change, ...]:
    plan = bench.current.plan
    if how == "part":
        held = next((part.picture for part in plan.parts if part.name == item), None)
        if held and held.file == facts.file:
            return ()
        return (Change("set", "parts", item, {"picture": {"file": facts.file}}),)
    if how == "reference" and all(row.file != facts.file for row in plan.references):
        stem = Path(facts.file).stem
        taken = {row.name for row in plan.references}
        free = next(word for word in (stem, *(f"{stem} {n}" for n in range(2, len(taken) + 3))) if word not in taken)
        return (Change("add", "references", free, {"file": facts.file}),)
    return ()


def _what(how: str, item: str, facts: PictureFacts) -> str:
    return f"picture put on {item}" if how == "part" else f"picture {facts.file} put among the references"


def _facts_json(bench: Bench, facts: PictureFacts) -> dict[str, Any]:
    stamp = hashlib.sha256(repr(picture_stamp(bench.folder, facts.file)).encode()).hexdigest()[:12]
    return {"file": facts.file, "format": facts.format, "width_px": facts.width_px, "height_px": facts.height_px,
            "film_mm": facts.film_mm, "stamp": stamp}


async def photo_facts(request: Request) -> Response:
    """Size of a picture as it is looked at, and what it says of its lens."""
    bench = await bench_of(request)
    facts = await asyncio.to_thread(picture_facts, bench.folder, request.path_params["file"])
    return JSONResponse(_facts_json(bench, facts))


async def photo(request: Request) -> Response:
    """A picture as it is looked at, in its own pixels (the longer side at most 4096)."""
    bench = await bench_of(request)
    data = await asyncio.to_thread(_jpeg, bench.folder, request.path_params["file"])
    return Response(data, media_type="image/jpeg", headers=KEPT if "of" in request.query_params else None)


def _jpeg(folder: Path, file: str) -> bytes:
    out = io.BytesIO()
    open_picture(folder, file, longest_px=PHOTO_PX).save(out, "JPEG", quality=88)
    return out.getvalue()


async def gauge(request: Request) -> Response:
    """What a set of points makes of a picture; nothing is changed."""
    await bench_of(request)
    body = await body_of(request)
    return JSONResponse(await asyncio.to_thread(gauge_json, body))


ROUTES = (
    Route(PLAN + "/pictures", hand_in, methods=["POST"]),
    Route(PLAN + "/photo-facts/{file:path}", photo_facts),
    Route(PLAN + "/photos/{file:path}", photo),
    Route(PLAN + "/gauge", gauge, methods=["POST"]),
)
"""Routes for pictures."""
