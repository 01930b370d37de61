"""Routes for pictures as they lie on a part, the outline that one offers, and pictures of the subject."""

from __future__ import annotations

import asyncio
import io
from functools import partial
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from rushlight.errors import OutOfRange
from rushlight.files.offered import offered_outline
from rushlight.files.pictures import open_picture
from rushlight.files.rectified import laid_picture
from rushlight.geometry.contour import OfferedOutline
from rushlight.web.api import PLAN, bench_of
from rushlight.web.desk import Bench
from rushlight.web.plain import plain


async def part_picture(request: Request) -> Response:
    """A part's picture laid on its millimetres; the box that it covers stands in a header."""
    bench = await bench_of(request)
    part = _numbered(bench.current.plan.parts, request)
    laid = await asyncio.to_thread(laid_picture, bench.folder, part)
    if laid is None:
        raise HTTPException(404, f"Part '{part.name}' has no picture with known points.")
    kept = {"Cache-Control": "private, max-age=31536000, immutable"}
    return Response(laid.jpeg, media_type="image/jpeg", headers=kept)


async def part_outline(request: Request) -> Response:
    """The outline that a part's picture offers, with the holes in it; or in words why it offers none."""
    bench = await bench_of(request)
    part = _numbered(bench.current.plan.parts, request)
    tolerance_mm = _tolerance_mm(request.query_params.get("tolerance_mm"))
    offer = partial(offered_outline, bench.folder, part, tolerance_mm=tolerance_mm)
    found = await asyncio.to_thread(offer)
    return JSONResponse({"part": part.name, "offered": isinstance(found, OfferedOutline), **plain(found)})


def _tolerance_mm(text: str | None) -> float | None:
    if not text:
        return None
    try:
        value = float(text)
    except ValueError:
        value = 0.0
    if not 0.01 <= value <= 50:
        raise OutOfRange("tolerance_mm", text, "a number of millimetres from 0.01 to 50")
    return value


async def reference_picture(request: Request) -> Response:
    """A picture of the subject."""
    bench = await bench_of(request)
    reference = _numbered(bench.current.plan.references, request)
    if not reference.file:
        raise HTTPException(404, f"Reference '{reference.name}' has no picture.")
    return Response(await asyncio.to_thread(_jpeg, bench, reference.file), media_type="image/jpeg")


def _jpeg(bench: Bench, file: str) -> bytes:
    out = io.BytesIO()
    open_picture(bench.folder, file, longest_px=2000).save(out, "JPEG", quality=86)
    return out.getvalue()


def _numbered(items: tuple[Any, ...], request: Request) -> Any:
    number = int(request.path_params["number"])
    if number >= len(items):
        raise HTTPException(404, f"There are {len(items)} of them; number {number} is not one.")
    return items[number]


ROUTES = (
    Route(PLAN + "/parts/{number:int}/picture", part_picture),
    Route(PLAN + "/parts/{number:int}/outline", part_outline),
    Route(PLAN + "/references/{number:int}/picture", reference_picture),
)
"""Routes of laid pictures."""
