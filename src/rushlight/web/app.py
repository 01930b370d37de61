"""The ASGI app: pages, fonts, the API; who may speak to it, and what its pages may load."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from rushlight.errors import Clash, DocumentProblem, RushlightError, StaleRevision, UnknownName
from rushlight.web.api import ROUTES
from rushlight.web.desk import Desk
from rushlight.web.door import ROUTES as DOOR_ROUTES
from rushlight.web.pictures_api import ROUTES as PICTURE_ROUTES
from rushlight.web.plain import nearest_of, problems_json

HERE = Path(__file__).parent
FONTS = HERE.parent / "book" / "fonts"
NAMES = ("127.0.0.1", "localhost", "[::1]")
UNSAFE = ("POST", "PUT", "PATCH", "DELETE")

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
        "connect-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}


def make_app(desk: Desk) -> Starlette:
    """The app on a desk of plans."""

    @asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[None]:
        await desk.start()
        yield
        await desk.stop()

    routes = [
        Route("/", page), Route("/plan/{plan}", page), *DOOR_ROUTES, *PICTURE_ROUTES, *ROUTES,
        Mount("/static", StaticFiles(directory=HERE / "static")), Mount("/fonts", StaticFiles(directory=FONTS)),
    ]
    handlers: dict[Any, Any] = {HTTPException: _http_error, RushlightError: _refused, Exception: _broken}
    app = Starlette(routes=routes, lifespan=lifespan, exception_handlers=handlers)
    app.add_middleware(GZipMiddleware, minimum_size=1500, compresslevel=4)
    app.add_middleware(Doorkeeper)
    app.state.desk = desk
    return app


async def page(request: Request) -> Response:
    """The one page; what it shows, its address says."""
    return FileResponse(HERE / "static" / "index.html", media_type="text/html; charset=utf-8",
                        headers={"Cache-Control": "no-cache"})


# --- errors: one form ---------------------------------------------------------------------------------------------


def error_json(kind: str, says: str, status: int, **more: Any) -> JSONResponse:
    """An error as every route gives it."""
    return JSONResponse({"error": {"kind": kind, "says": says, **more}}, status)


async def _http_error(request: Request, error: HTTPException) -> Response:
    return error_json("request", error.detail, error.status_code)


async def _refused(request: Request, error: RushlightError) -> Response:
    if isinstance(error, Clash):
        return error_json("clash", str(error), 409, items=list(error.items))
    if isinstance(error, StaleRevision):
        return error_json("stale", str(error), 409)
    if isinstance(error, DocumentProblem):
        return error_json("problem", str(error), 422, problems=problems_json(error.problems))
    if isinstance(error, UnknownName):
        return error_json("unknown", str(error), 404, nearest=nearest_of(error))
    return error_json("refused", str(error), 422)


async def _broken(request: Request, error: Exception) -> Response:
    return error_json("broken", f"The server met an error of its own ({type(error).__name__}). Nothing was lost.", 500)


# --- the door -----------------------------------------------------------------------------------------------------


class Doorkeeper:
    """Refuses what does not come from this app's own pages, and says what they may load."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        why = refusal(scope)
        if why:
            await error_json("foreign", why, 403)(scope, receive, send)
            return

        async def send_with(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message["headers"], *_headers()]
            await send(message)

        await self.app(scope, receive, send_with)


def refusal(scope: Scope) -> str:
    """Why a request is refused; empty if it is not."""
    headers = {key.decode("latin-1"): value.decode("latin-1") for key, value in scope["headers"]}
    host = headers.get("host", "")
    if _name(host) not in NAMES:
        return "This app answers only to pages of this computer (foreign Host)."
    origin = headers.get("origin")
    if origin is not None and origin != f"{scope.get('scheme', 'http')}://{host}":
        return "This app answers only to its own pages (foreign Origin)."
    if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none") and scope["method"] in UNSAFE:
        return "This app answers only to its own pages."
    return ""


def _name(host: str) -> str:
    name, colon, port = host.rpartition(":")
    return name if colon and port.isdigit() else host


def _headers() -> list[tuple[bytes, bytes]]:
    return [(key.lower().encode(), value.encode()) for key, value in HEADERS.items()]
