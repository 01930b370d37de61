"""Coroutines run to their end, whatever loop a browser has left running in the test's own thread."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any


def run_to_end(work: Coroutine[Any, Any, Any]) -> Any:
    """What a coroutine returns; it runs in a thread of its own, which has no loop yet."""
    return in_own_thread(lambda: asyncio.run(work))


def in_own_thread(work: Callable[[], Any]) -> Any:
    """What a function returns that begins a loop of its own."""
    with ThreadPoolExecutor(max_workers=1) as pool:
        return pool.submit(work).result()
