"""The page for showing, from the app: made with its progress told, then handed out as a file."""

from __future__ import annotations

import json

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response
from starlette.routing import Route

from rushlight.web.api import PLAN, bench_of, body_of, desk_of
from rushlight.web.worker import Job

FILE = "share.html"


async def make_page(request: Request) -> Response:
    """Write the page; body: `pictures`, true to send the parts' pictures with it."""
    bench, body = await bench_of(request), await body_of(request)
    word = "pictures" if body.get("pictures") is True else ""
    revision = bench.current.revision
    done = await desk_of(request).ask(bench, Job("share", str(bench.folder), word), revision)
    if done.kind != "done":
        raise HTTPException(409, done.data)
    told = json.loads(done.data)
    return JSONResponse({**told, "fresh": told["revision"] == bench.current.revision})


async def page(request: Request) -> Response:
    """The page as last written, as a file to keep: it is not opened inside the app."""
    bench = await bench_of(request)
    if not (bench.folder / FILE).is_file():
        raise HTTPException(404, "The page was not made yet.")
    return FileResponse(bench.folder / FILE, media_type="text/html; charset=utf-8", filename=FILE)


ROUTES = (
    Route(PLAN + "/share", make_page, methods=["POST"]),
    Route(PLAN + "/" + FILE, page),
)
"""Routes of the page for showing."""
