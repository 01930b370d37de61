"""The ASGI app: pages, fonts, the API; who may speak to it, and what its pages may load."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from functools import cache
from typing import Any

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route, Router
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from rushlight.errors import RushlightError
from rushlight.web.api import ROUTES
from rushlight.web.desk import Desk
from rushlight.web.guard import HEADERS, HERE, STATIC, error_json, header_rows, on_broken, on_http, on_refused
from rushlight.web.network_door import Door
from rushlight.web.shelf import Shelf

NAMES = ("127.0.0.1", "localhost", "[::1]")
UNSAFE = ("POST", "PUT", "PATCH", "DELETE")


def make_app(desk: Desk) -> Starlette:
    """The app on a desk of plans."""

    @asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[None]:
        await desk.start()
        yield
        await app.state.door.close()
        await desk.stop()

    routes = [
        Route("/", page), Route("/plan/{plan}", page),
        *ROUTES,
    ]
    handlers: dict[Any, Any] = {HTTPException: on_http, RushlightError: on_refused, Exception: on_broken}
    app = Starlette(routes=routes, lifespan=lifespan, exception_handlers=handlers)
    app.router.default = late_routes
    app.add_middleware(GZipMiddleware, minimum_size=1500, compresslevel=4)
    app.add_middleware(Doorkeeper)
    app.state.desk, app.state.door = desk, Door(desk)
    return app


async def late_routes(scope: Scope, receive: Receive, send: Send) -> None:
    """Routes that a plan's page does not ask for at first: their code is read when one of them is wanted."""
    await _late()(scope, receive, send)


@cache
def _late() -> Router:
    from rushlight.web import (
        bench_api,
        door,
        form_api,
        laid_api,
        network_door_api,
        own_api,
        pictures_api,
        share_api,
        stood_api,
        supplies_api,
        tried_api,
    )

    modules = (door, laid_api, pictures_api, bench_api, network_door_api, own_api, form_api, share_api, stood_api,
               supplies_api, tried_api)
    return Router([route for module in modules for route in module.ROUTES])


async def page(request: Request) -> Response:
    """The one page; what it shows, its address says."""
    return FileResponse(STATIC / "index.html", media_type="text/html; charset=utf-8",
                        headers={"Cache-Control": "no-cache"})


# --- the door -----------------------------------------------------------------------------------------------------


class Doorkeeper:
    """Refuses what does not come from this app's own pages, and says what they may load."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app
        self.shelf = Shelf()

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
                message["headers"] = [*message["headers"], *header_rows()]
            await send(message)

        await (self.shelf if self.shelf.has(scope["path"]) else self.app)(scope, receive, send_with)


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


__all__ = ["HEADERS", "HERE", "make_app"]
