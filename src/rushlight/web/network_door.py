"""The door to the local network: a second listener on one address, for the bench of one plan, closed by default."""

from __future__ import annotations

import asyncio
import contextlib
import socket
import time
from collections.abc import Awaitable, Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from rushlight.errors import MissingTool, OutOfRange
from rushlight.web.desk import Bench, Desk
from rushlight.web.lan import private_addresses
from rushlight.web.pairing import IDLE_S, Guests

LOOK_EVERY_S = 5.0
PATIENCE_S = 2.0
MOST_CONNECTIONS = 64

Listen = Callable[[str, "Inside"], Awaitable["Listener"]]


@dataclass
class Inside:
    """What stands behind the open door: one plan's bench, and who is in."""

    desk: Desk
    bench: Bench
    guests: Guests
    address: str = ""
    ended: set[asyncio.Queue[dict[str, Any]]] = field(default_factory=set)


@dataclass(frozen=True, slots=True)
class Listener:
    """A server that listens; `address` is host and port, `close` ends it."""

    address: str
    close: Callable[[], Awaitable[None]]


class Door:
    """Open for one plan at one address, or closed."""

    def __init__(self, desk: Desk, *, addresses: Callable[[], tuple[str, ...]] = private_addresses,
                 now: Callable[[], float] = time.monotonic) -> None:
        self._desk, self._addresses, self._now = desk, addresses, now
        self._inside: Inside | None = None
        self._listener: Listener | None = None
        self._watch: asyncio.Task[None] | None = None
        self._lock = asyncio.Lock()
        self.why_closed = ""

    @property
    def inside(self) -> Inside | None:
        """What the open door leads to; None while it is closed."""
        return self._inside

    def addresses(self) -> tuple[str, ...]:
        """This computer's addresses that the door may be opened at."""
        return self._addresses()

    async def open(self, bench: Bench, address: str) -> Inside:
        """Open for a plan; a door that was open elsewhere is closed first.

        Raises
        ------
        OutOfRange
            If the address is none of this computer's private ones.
        MissingTool
            If nothing can listen there.
        """
        async with self._lock:
            known = self._addresses()
            if address not in known:
                wanted = ", ".join(known) or "a private address; this computer is in no local network now"
                raise OutOfRange("address", f"'{address}'", wanted)
            await self._close("")
            inside = Inside(self._desk, bench, Guests(self._now))
            self._listener = await listen(address, inside)
            inside.address = self._listener.address
            inside.guests.new_code()
            self._inside, self.why_closed = inside, ""
            self._watch = asyncio.create_task(self._watching(inside))
            return inside

    async def close(self, why: str = "") -> None:
        """Close; phones that are in are told and sent away."""
        async with self._lock:
            await self._close(why)

    async def _close(self, why: str) -> None:
        inside, listener, watch = self._inside, self._listener, self._watch
        self._inside, self._listener, self._watch = None, None, None
        if inside is None or listener is None:
            return
        self.why_closed = why
        if watch and watch is not asyncio.current_task():
            watch.cancel()
        for queue in tuple(inside.ended):
            queue.put_nowait({"event": "bye"})
        await listener.close()
        inside.bench.tell("door")

    async def _watching(self, inside: Inside) -> None:
        """Close by itself when nothing was heard for long."""
        while self._inside is inside:
            await asyncio.sleep(min(LOOK_EVERY_S, inside.guests.idle_left_s + 0.01))
            if inside.guests.idle_left_s <= 0:
                await self.close(f"No phone was heard for {IDLE_S / 3600:.0f} hour, so the door closed by itself.")
                return

    def send_away(self, key: str) -> bool:
        """End a phone's stay."""
        inside = self._inside
        if inside is None or not inside.guests.send_away(key):
            return False
        for queue in tuple(inside.ended):
            queue.put_nowait({"event": "look"})
        inside.bench.tell("door")
        return True


async def listen(address: str, inside: Inside) -> Listener:
    """Serve the phones' app at one address of this computer, on a free port."""
    import uvicorn

    from rushlight.web.phone_app import make_phone_app

    class Quiet(uvicorn.Server):
        """Leaves the signals of the process to the app's own server."""

        @contextlib.contextmanager
        def capture_signals(self) -> Iterator[None]:
            yield

    listening = _listening(address)
    inside.address = f"{address}:{listening.getsockname()[1]}"
    config = uvicorn.Config(make_phone_app(inside), log_level="warning", timeout_graceful_shutdown=1, lifespan="off",
                            limit_concurrency=MOST_CONNECTIONS, server_header=False, proxy_headers=False)
    server = Quiet(config)
    task = asyncio.create_task(server.serve(sockets=[listening]))

    async def close() -> None:
        server.should_exit = True
        done, _ = await asyncio.wait({task}, timeout=PATIENCE_S)
        if not done:
            server.force_exit = True
            await asyncio.wait({task}, timeout=PATIENCE_S)
        listening.close()

    return Listener(inside.address, close)


def _listening(address: str) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)  # see serve.py
    try:
        listening.bind((address, 0))
        listening.listen()
    except OSError as error:
        listening.close()
        cure = f"it is no address of this computer any more, or may not be used ({error.strerror}); look again"
        raise MissingTool(f"address {address}", cure) from None
    return listening
