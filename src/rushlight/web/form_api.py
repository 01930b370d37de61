"""The route of the forms that are fetched late."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from rushlight.web.api import PLAN, bench_of
from rushlight.web.form_plain import forms_json


async def forms(request: Request) -> Response:
    """What the late forms of this plan offer."""
    working = (await bench_of(request)).current
    return JSONResponse(forms_json(working.parts, working.plan.subject.kind))


ROUTES = [Route(PLAN + "/forms", forms)]
