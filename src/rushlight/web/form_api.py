"""Routes of the forms that are fetched late."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from rushlight.web.api import PLAN, bench_of, following
from rushlight.web.form_plain import forms_json
from rushlight.web.worker import Job


async def forms(request: Request) -> Response:
    """What the late forms of this plan offer."""
    working = (await bench_of(request)).current
    return JSONResponse(forms_json(working.parts, working.plan.subject.kind))


async def held(request: Request) -> Response:
    """What can be held fast, and what the design chose for it."""
    bench = await bench_of(request)
    return await following(request, Job("held", str(bench.folder)))


ROUTES = [Route(PLAN + "/held", held), Route(PLAN + "/forms", forms)]
