"""Running the app on this computer alone: a free port, the browser opened on it."""

from __future__ import annotations

import asyncio
import contextlib
import gc
import socket
import sys
import webbrowser
from pathlib import Path
from typing import TYPE_CHECKING

from rushlight.errors import MissingTool

if TYPE_CHECKING:
    import uvicorn

    from rushlight.web.desk import Desk

HOST = "127.0.0.1"
PAGE_FIRST_S = 1.5
COLLECTOR_RESTS_S = 3.0
"""At the start there is much to load and nothing to throw away: so long at most nothing is looked for."""


def serve(
    plan: Path | None, *, port: int = 0, browser: bool = True, plans_home: Path | None = None,
    leave_s: float | None = None,
) -> int:
    """Serve the app until it is stopped (Ctrl+C).

    Parameters
    ----------
    plan : Path or None
        Plan to open; None: the start page.
    port : int
        0 takes a free one.
    browser : bool
        Whether to open the browser.
    plans_home : Path or None
        Folder for new plans and copies of demos; None: 'rushlight plans' in the user's home.
    leave_s : float or None
        End so long [s] after the last page was closed; None: never.
    Returns
    -------
    int
        Exit status.
    Raises
    ------
    DocumentProblem
        If the plan has problems.
    MissingTool
        If the port is taken.
    """
    gc.disable()  # until the first page has its plan, see _collect_later
    from rushlight.web.desk import Desk

    listening = _listening(port)
    try:
        desk = Desk(plans_home or Path.home() / "rushlight plans", page_first_s=PAGE_FIRST_S)
        with contextlib.suppress(KeyboardInterrupt):
            asyncio.run(_serve(listening, desk, plan, browser, leave_s))
    finally:
        gc.enable()
    return 0


def _listening(port: int) -> socket.socket:
    # Named as TCP, asyncio switches off Nagle's delay; else every answer waits 40 ms for the other side's word.
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    if sys.platform != "win32":
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((HOST, port))
        listening.listen()  # who comes before the server is ready waits a moment, and is not sent away
    except OSError:
        listening.close()
        cure = "another program has it; take another with --port, or none for a free one"
        raise MissingTool(f"port {port}", cure) from None
    return listening


async def _serve(
    listening: socket.socket, desk: Desk, plan: Path | None, browser: bool, leave_s: float | None
) -> None:
    bench = await desk.open(plan) if plan else None
    address = f"http://{HOST}:{listening.getsockname()[1]}{f'/plan/{bench.key}' if bench else '/'}"
    server = _server(desk)
    print(f"rushlight is open at {address}  (stop it with Ctrl+C)", flush=True)
    if browser:
        asyncio.get_running_loop().call_later(0.3, webbrowser.open, address)
    beside = [asyncio.create_task(_collect_later(bench.shown if bench else asyncio.Event()))]
    if leave_s is not None:
        beside.append(asyncio.create_task(_leave(server, desk, leave_s)))
    await server.serve(sockets=[listening])
    for task in beside:
        task.cancel()


def _server(desk: Desk) -> uvicorn.Server:
    import uvicorn

    from rushlight.web.app import make_app

    class Server(uvicorn.Server):
        """Sends the pages their goodbye before it waits for them to hang up."""

        async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
            await desk.stop()
            await super().shutdown(sockets)

    config = uvicorn.Config(make_app(desk), log_level="warning", timeout_graceful_shutdown=1, lifespan="on")
    return Server(config)


async def _collect_later(shown: asyncio.Event) -> None:
    """Let the collector of unused objects run once a page has its plan; what was loaded till then stays for good."""
    with contextlib.suppress(TimeoutError):
        await asyncio.wait_for(shown.wait(), COLLECTOR_RESTS_S)
    gc.freeze()
    gc.enable()


async def _leave(server: uvicorn.Server, desk: Desk, leave_s: float) -> None:
    """End the server when no page has been open for so long."""
    while desk.unused_s() < leave_s:
        await asyncio.sleep(min(5.0, leave_s / 4))
    server.should_exit = True
