"""The route of other supplies worked out beside the plan's own."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rushlight.web.api import PLAN, bench_of, following
from rushlight.web.worker import Job


async def supplies(request: Request) -> Response:
    """Up to six other supplies, each with what it comes to and the edit that takes it."""
    bench = await bench_of(request)
    return await following(request, Job("supplies", str(bench.folder)))


ROUTES = [Route(PLAN + "/supplies", supplies)]
