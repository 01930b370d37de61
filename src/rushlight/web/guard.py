"""What both listeners share: what pages may load, where files lie, one form of errors."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from rushlight.errors import Clash, DocumentProblem, RushlightError, StaleRevision, UnknownName
from rushlight.web.plain import nearest_of, problems_json

HERE = Path(__file__).parent
STATIC = HERE / "static"
FONTS = HERE.parent / "book" / "fonts"

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
        "connect-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}


def header_rows(headers: dict[str, str] = HEADERS) -> list[tuple[bytes, bytes]]:
    """Headers as ASGI has them."""
    return [(key.lower().encode(), value.encode()) for key, value in headers.items()]


def error_json(kind: str, says: str, status: int, **more: Any) -> JSONResponse:
    """An error as every route gives it."""
    return JSONResponse({"error": {"kind": kind, "says": says, **more}}, status)


async def on_http(request: Request, error: HTTPException) -> Response:
    """An error of the request itself."""
    return error_json("request", error.detail, error.status_code)


async def on_refused(request: Request, error: RushlightError) -> Response:
    """What the engine refuses, in its own words."""
    if isinstance(error, Clash):
        return error_json("clash", str(error), 409, items=list(error.items))
    if isinstance(error, StaleRevision):
        return error_json("stale", str(error), 409)
    if isinstance(error, DocumentProblem):
        return error_json("problem", str(error), 422, problems=problems_json(error.problems))
    if isinstance(error, UnknownName):
        return error_json("unknown", str(error), 404, nearest=nearest_of(error))
    return error_json("refused", str(error), 422)


async def on_broken(request: Request, error: Exception) -> Response:
    """An error of the server; its inside is not shown."""
    return error_json("broken", f"The server met an error of its own ({type(error).__name__}). Nothing was lost.", 500)
