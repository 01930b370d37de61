"""The phones' app: the bench of one plan, for phones that were let in; before that the pairing page alone."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from http.cookies import CookieError, SimpleCookie
from typing import Any

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from rushlight.errors import RushlightError
from rushlight.web import bench_api
from rushlight.web.api import BEAT_S, body_of
from rushlight.web.guard import FONTS, HEADERS, STATIC, error_json, header_rows, on_broken, on_http, on_refused
from rushlight.web.network_door import Inside
from rushlight.web.pairing import Phone

COOKIE = "bench"
MOST_PAIRING_BODY = 2_000
TOLD = ("hello", "plan", "answer", "stage", "failed")
"""Events that a phone hears; the rest is the computer's own."""

OPEN_FILES = {
    "phone.css": "text/css", "icon.svg": "image/svg+xml", "js/bench/pair.js": "text/javascript",
}
"""What the pairing page needs: the only files that are given out before a phone is let in."""

BENCH_MODULES = (
    "phone", "log", "outbox", "worktop", "screens", "gates", "pieces", "drawing", "pane", "parts", "fault", "look",
    "amounts", "meter", "trial", "svg", "bands",
    "band-value",
)

OWN_FILES = {
    "bench.css": "text/css", "vendor/preact-htm.js": "text/javascript", "js/talk.js": "text/javascript",
    "js/later.js": "text/javascript", **{f"js/bench/{name}.js": "text/javascript" for name in BENCH_MODULES},
}
"""What the bench's pages need; nothing of the editor."""

PHONE_HEADERS = {key: value for key, value in HEADERS.items() if key != "Cross-Origin-Opener-Policy"}
"""Browsers heed that one only over HTTPS and on the computer itself, and complain of it elsewhere."""

FONT_FILES = ("AtkinsonHyperlegibleNext-Regular.ttf", "AtkinsonHyperlegibleNext-Bold.ttf")


def make_phone_app(inside: Inside) -> Starlette:
    """The app behind the open door."""
    handlers: dict[Any, Any] = {HTTPException: on_http, RushlightError: on_refused, Exception: on_broken}
    app = Starlette(routes=ROUTES, exception_handlers=handlers)
    app.add_middleware(GZipMiddleware, minimum_size=1500, compresslevel=4)
    app.add_middleware(PhoneDoorkeeper, inside=inside)
    app.state.desk, app.state.inside = inside.desk, inside
    return app


class PhoneDoorkeeper:
    """Lets through what comes from its own pages, and from phones that are in; says what pages may load."""

    def __init__(self, app: ASGIApp, inside: Inside) -> None:
        self.app, self.inside = app, inside

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
        if scope["type"] != "http":
            return

        async def send_with(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message["headers"], *header_rows(PHONE_HEADERS)]
            await send(message)

        answer = self._refusal(scope)
        await (answer or self.app)(scope, receive, send_with)

    def _refusal(self, scope: Scope) -> Response | None:
        headers = {key.decode("latin-1"): value.decode("latin-1") for key, value in scope["headers"]}
        own = f"http://{self.inside.address}"
        if headers.get("host") != self.inside.address:
            return error_json("foreign", "This door answers only to its own address (foreign Host).", 403)
        origin = headers.get("origin")
        if origin not in (None, own) or (origin is None and scope["method"] not in ("GET", "HEAD")):
            return error_json("foreign", "This door answers only to its own pages (foreign Origin).", 403)
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return error_json("foreign", "This door answers only to its own pages.", 403)
        phone = self.inside.guests.who(secret_of(headers.get("cookie", "")))
        if phone is None and not _is_open(scope["path"]):
            return error_json("not in", "This phone is not let in. Ask for a code at the computer.", 401)
        scope["state"] = {**scope.get("state", {}), "phone": phone}
        return None


def secret_of(cookie: str) -> str:
    """The phone's secret in its cookie; empty if there is none."""
    try:
        held = SimpleCookie(cookie).get(COOKIE)
    except CookieError:
        return ""
    return held.value if held else ""


def _is_open(path: str) -> bool:
    return path in ("/", "/pair") or path in {f"/static/{name}" for name in OPEN_FILES} or path in {
        f"/fonts/{name}" for name in FONT_FILES}


# --- routes -------------------------------------------------------------------------------------------------------


async def first_page(request: Request) -> Response:
    """The bench for a phone that is in; the pairing page for any other."""
    name = "bench.html" if request.state.phone else "pair.html"
    return FileResponse(STATIC / name, media_type="text/html; charset=utf-8", headers={"Cache-Control": "no-store"})


async def pair(request: Request) -> Response:
    """Let a phone in by the code."""
    if int(request.headers.get("content-length") or MOST_PAIRING_BODY + 1) > MOST_PAIRING_BODY:
        raise HTTPException(413, "That is more than a code.")
    body, inside = await body_of(request), request.app.state.inside
    let = inside.guests.try_code(str(body.get("code", ""))[:20], str(body.get("name", "")))
    inside.bench.tell("door")
    if not let.secret:
        return JSONResponse({"in": False, "says": let.why})
    answer = JSONResponse({"in": True})
    answer.set_cookie(COOKIE, let.secret, httponly=True, samesite="strict", path="/")
    return answer


async def file(request: Request) -> Response:
    """One of the files that the pages need."""
    name = request.path_params["name"]
    kind = OPEN_FILES.get(name) or OWN_FILES.get(name)
    if kind is None:
        raise HTTPException(404, "There is no such file.")
    return FileResponse(STATIC / name, media_type=kind, headers={"Cache-Control": "no-cache"})


async def font(request: Request) -> Response:
    """One of the fonts."""
    name = request.path_params["name"]
    if name not in FONT_FILES:
        raise HTTPException(404, "There is no such font.")
    return FileResponse(FONTS / name, media_type="font/ttf", headers={"Cache-Control": "max-age=86400"})


async def acts(request: Request) -> Response:
    """Acts of this phone, entered under its name."""
    return await bench_api.take_acts(request, request.state.phone.name)


async def photo(request: Request) -> Response:
    """A photograph of this phone, entered under its name."""
    return await bench_api.take_photo(request, request.state.phone.name)


async def events(request: Request) -> Response:
    """What happens to the plan, as long as this phone is in."""
    return StreamingResponse(_told(request.app.state.inside, request.state.phone), media_type="text/event-stream")


async def _told(inside: Inside, phone: Phone) -> AsyncIterator[str]:
    queue: asyncio.Queue[dict[str, Any]] = asyncio.Queue()
    inside.bench.listeners.add(queue)
    inside.ended.add(queue)
    try:
        yield _event({"event": "hello", "revision": inside.bench.current.revision, "name": phone.name})
        while True:
            try:
                event = await asyncio.wait_for(queue.get(), BEAT_S)
            except TimeoutError:
                event = {"event": "beat"}
            if not inside.guests.is_in(phone.key) or event["event"] == "bye":
                yield _event({"event": "bye"})
                return
            inside.guests.heard()
            if event["event"] in TOLD:
                yield _event(event)
            elif event["event"] == "beat":
                yield ": beat\n\n"
    finally:
        inside.bench.listeners.discard(queue)
        inside.ended.discard(queue)


def _event(event: dict[str, Any]) -> str:
    return f"data: {json.dumps(event)}\n\n"


ROUTES = (
    Route("/", first_page),
    Route("/pair", pair, methods=["POST"]),
    Route("/static/{name:path}", file),
    Route("/fonts/{name}", font),
    Route("/bench", bench_api.bench_page),
    Route("/bench/log", bench_api.bench_log),
    Route("/bench/acts", acts, methods=["POST"]),
    Route("/bench/photo", photo, methods=["POST"]),
    Route("/bench/photo/{file:path}", bench_api.bench_seen),
    Route("/bench/drawings/{number:int}", bench_api.bench_drawing),
    Route("/bench/meters/{step}/{number:int}", bench_api.bench_meter),
    Route("/bench/fault", bench_api.bench_fault),
    Route("/events", events),
)
"""Every route behind the door."""
