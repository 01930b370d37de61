"""Routes for what the modeller knows better: readings worth taking, own values of parts, own habits."""

from __future__ import annotations

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rushlight.web.api import PLAN, bench_of, desk_of
from rushlight.web.worker import Job


async def own(request: Request) -> Response:
    """What to measure first, and every value and habit that a plan may hold as its own."""
    bench = await bench_of(request)
    if bench.answered != bench.current.revision:
        raise HTTPException(409, "The plan is still being worked out.")
    done = await desk_of(request).ask(bench, Job("own", str(bench.folder)), bench.current.revision)
    if done.kind != "done":
        raise HTTPException(409, done.data)
    return Response(done.data, media_type="application/json")


ROUTES = [Route(PLAN + "/own", own)]
