"""`rushlight open`: the app in the browser."""

from __future__ import annotations

import argparse
from pathlib import Path


def add_arguments(command: argparse.ArgumentParser) -> None:
    """The words of `rushlight open`."""
    command.add_argument("plan", type=Path, nargs="?", default=None, help="folder of the plan (none: the start page)")
    command.add_argument("--port", type=int, default=0, help="port on this computer (default: a free one)")
    command.add_argument("--no-browser", action="store_true", help="do not open the browser")
    command.add_argument("--leave-after", type=float, default=None, metavar="MINUTES",
                         help="end by itself so long after the last page was closed (default: never)")
    command.add_argument("--plans", type=Path, default=None, metavar="FOLDER",
                         help="folder for new plans and copies of demos (default: 'rushlight plans' in your home)")


def open_app(asked: argparse.Namespace) -> int:
    """`rushlight open PLAN`: serves on this computer alone until it is stopped."""
    from rushlight.web.serve import serve

    leave_s = None if asked.leave_after is None else 60 * asked.leave_after
    return serve(asked.plan, port=asked.port, browser=not asked.no_browser, plans_home=asked.plans, leave_s=leave_s)
