"""The door's handle, for the app on this computer alone: open, close, a new code, who is in."""

from __future__ import annotations

import time
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from rushlight.errors import OutOfRange
from rushlight.web.api import bench_of, body_of
from rushlight.web.network_door import Door, Inside
from rushlight.web.pairing import CODE_LIVES_S, IDLE_S, MOST_WRONG


async def door(request: Request) -> Response:
    """Whether the door is open, where it may be opened, who is in."""
    return JSONResponse(door_json(door_of(request)))


async def open_door(request: Request) -> Response:
    """Open the door for a plan's bench at one of this computer's addresses."""
    bench, body = await bench_of(request), await body_of(request)
    await door_of(request).open(bench, str(body.get("address", "")))
    return JSONResponse(door_json(door_of(request)), 201)


async def close_door(request: Request) -> Response:
    """Close it."""
    await body_of(request)
    await door_of(request).close()
    return JSONResponse(door_json(door_of(request)))


async def new_code(request: Request) -> Response:
    """A code for one more phone."""
    await body_of(request)
    inside = door_of(request).inside
    if inside is None:
        raise OutOfRange("door", "closed", "an open door")
    inside.guests.new_code()
    return JSONResponse(door_json(door_of(request)))


async def send_away(request: Request) -> Response:
    """Send one phone away."""
    body = await body_of(request)
    door_of(request).send_away(str(body.get("key", "")))
    return JSONResponse(door_json(door_of(request)))


def door_of(request: Request) -> Door:
    """The server's door."""
    door: Door = request.app.state.door
    return door


def door_json(door: Door) -> dict[str, Any]:
    """The door as the leaf shows it."""
    facts = {"addresses": list(door.addresses()), "code_minutes": CODE_LIVES_S / 60, "idle_minutes": IDLE_S / 60,
             "most_wrong": MOST_WRONG}
    inside = door.inside
    if inside is None:
        return {"open": False, "why": door.why_closed, **facts}
    return {"open": True, **_open_json(inside), **facts}


def _open_json(inside: Inside) -> dict[str, Any]:
    guests, code = inside.guests, inside.guests.code
    link = f"http://{inside.address}/"
    return {
        "plan": inside.bench.key, "title": inside.bench.current.plan.subject.title, "link": link, "code": code,
        "code_left_s": round(guests.code_left_s), "shut": guests.shut,
        "qr": qr_rows(f"{link}#{code}") if code else [],
        "phones": [
            {"key": phone.key, "name": phone.name, "silent_s": round(time.monotonic() - phone.seen_s)}
            for phone in guests.phones()
        ],
    }


def qr_rows(text: str) -> list[str]:
    """A QR symbol (ISO/IEC 18004) as rows of 0 and 1, without its quiet zone."""
    import segno

    return ["".join(str(min(module, 1)) for module in row) for row in segno.make_qr(text, error="m").matrix]


ROUTES = (
    Route("/api/door", door),
    Route("/api/plans/{plan}/door", open_door, methods=["POST"]),
    Route("/api/door/close", close_door, methods=["POST"]),
    Route("/api/door/code", new_code, methods=["POST"]),
    Route("/api/door/send-away", send_away, methods=["POST"]),
)
"""Routes of the door, on this computer's own address only."""
