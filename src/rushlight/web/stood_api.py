"""The route of the model as it stands in the dark, seen from any side."""

from __future__ import annotations

import json
import math

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from rushlight.errors import OutOfRange
from rushlight.web.api import PLAN, bench_of, following
from rushlight.web.worker import Job


async def stood(request: Request) -> Response:
    """The picture of a state from a bearing and a height; without them as the plan has it."""
    bench, asked = await bench_of(request), request.query_params
    place = None
    if "bearing_deg" in asked or "height_deg" in asked:
        place = [_degrees(asked.get("bearing_deg", "0"), "bearing_deg", 0.0, 360.0),
                 _degrees(asked.get("height_deg", "0"), "height_deg", -90.0, 90.0)]
    return await following(request, Job("stood", str(bench.folder), json.dumps([asked.get("state", ""), place])))


def _degrees(word: str, key: str, low: float, high: float) -> float:
    try:
        value = float(word)
    except ValueError:
        value = math.nan
    if not low <= value <= high:
        raise OutOfRange(key, repr(word), f"{low:g} to {high:g} degrees")
    return value


ROUTES = [Route(PLAN + "/stood", stood)]
