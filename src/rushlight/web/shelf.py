"""Scripts, styles and fonts, held in memory as they go over the wire: a page asks for seventy of them at once."""

from __future__ import annotations

import gzip
import mimetypes
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from starlette.types import Receive, Scope, Send

from rushlight.web.guard import FONTS, STATIC, error_json

FOLDERS = {"/static/": STATIC, "/fonts/": FONTS}
KINDS = {".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".ttf": "font/ttf"}
SMALLEST_PACKED = 600
"""Shorter files are not packed: it would save nothing."""


@dataclass(frozen=True, slots=True)
class Held:
    """One file as it is sent."""

    seen: tuple[int, int]
    """When the file was written [ns] and its size: it is read again when they change."""
    tag: bytes
    kind: bytes
    data: bytes
    packed: bytes | None


class Shelf:
    """Serves the files of the served folders, and no other."""

    def __init__(self) -> None:
        self._held: dict[str, Held] = {}
        self._paths = {
            way + path.relative_to(folder).as_posix(): path
            for way, folder in FOLDERS.items() for path in folder.rglob("*") if path.is_file()
        }

    def has(self, path: str) -> bool:
        """Whether an address lies in the served folders."""
        return path.startswith(tuple(FOLDERS))

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        held = self._file(scope["path"])
        if held is None:
            await error_json("request", "Not Found", 404)(scope, receive, send)
            return
        if scope["method"] not in ("GET", "HEAD"):
            await error_json("request", "Method Not Allowed", 405)(scope, receive, send)
            return
        asked = dict(scope["headers"])
        headers = [(b"content-type", held.kind), (b"etag", held.tag), (b"cache-control", b"no-cache"),
                   (b"vary", b"accept-encoding")]
        if asked.get(b"if-none-match") == held.tag:
            await send({"type": "http.response.start", "status": 304, "headers": headers})
            await send({"type": "http.response.body", "body": b""})
            return
        data = held.data
        if held.packed is not None and b"gzip" in asked.get(b"accept-encoding", b""):
            data = held.packed
            headers.append((b"content-encoding", b"gzip"))
        headers.append((b"content-length", str(len(data)).encode()))
        await send({"type": "http.response.start", "status": 200, "headers": headers})
        await send({"type": "http.response.body", "body": b"" if scope["method"] == "HEAD" else data})

    def _file(self, address: str) -> Held | None:
        path = self._paths.get(address)
        if path is None:
            return None
        try:
            stat = path.stat()
            seen, held = (stat.st_mtime_ns, stat.st_size), self._held.get(address)
            if held is None or held.seen != seen:
                held = self._held[address] = _read(path, seen)
        except OSError:
            return None
        return held


def _read(path: Path, seen: tuple[int, int]) -> Held:
    data = path.read_bytes()
    packed = gzip.compress(data, 6, mtime=0) if len(data) >= SMALLEST_PACKED else None
    kind = KINDS.get(path.suffix) or mimetypes.guess_type(path.name)[0] or "application/octet-stream"
    tag = f'"{sha256(data).hexdigest()[:16]}"'.encode()
    return Held(seen, tag, kind.encode(), data, packed if packed and len(packed) < 0.9 * len(data) else None)
