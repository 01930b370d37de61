"""The route of a finding's edit tried before it is made."""

from __future__ import annotations

import json

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rushlight.web.api import PLAN, bench_of, following
from rushlight.web.worker import Job


async def tried(request: Request) -> Response:
    """What the edit of a finding (its `key` and `item`) takes away and brings, and one that does without."""
    bench, asked = await bench_of(request), request.query_params
    word = json.dumps([asked.get("key", ""), asked.get("item", "")])
    return await following(request, Job("tried", str(bench.folder), word))


ROUTES = [Route(PLAN + "/tried", tried)]
