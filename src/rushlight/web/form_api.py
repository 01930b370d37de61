"""Routes of the forms that are fetched late."""

from __future__ import annotations

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from rushlight.web.api import PLAN, bench_of, desk_of
from rushlight.web.form_plain import forms_json
from rushlight.web.worker import Job


async def forms(request: Request) -> Response:
    """What the late forms of this plan offer."""
    working = (await bench_of(request)).current
    return JSONResponse(forms_json(working.parts, working.plan.subject.kind))


async def held(request: Request) -> Response:
    """What can be held fast, and what the design chose for it."""
    bench = await bench_of(request)
    if bench.answered != bench.current.revision:
        raise HTTPException(409, "The plan is still being worked out.")
    done = await desk_of(request).ask(bench, Job("held", str(bench.folder)), bench.current.revision)
    if done.kind != "done":
        raise HTTPException(409, done.data)
    return Response(done.data, media_type="application/json")


ROUTES = [Route(PLAN + "/held", held), Route(PLAN + "/forms", forms)]
