"""Routes for what the modeller knows better: readings worth taking, own values of parts, own habits."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rushlight.web.api import PLAN, bench_of, following
from rushlight.web.worker import Job


async def own(request: Request) -> Response:
    """What to measure first, and every value and habit that a plan may hold as its own."""
    bench = await bench_of(request)
    return await following(request, Job("own", str(bench.folder)))


ROUTES = [Route(PLAN + "/own", own)]
