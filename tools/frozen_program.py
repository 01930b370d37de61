"""The program that is double-clicked: without words it opens the app's start page, with words it is `rushlight`."""

import multiprocessing
import os
import sys


def main() -> int:
    """One command."""
    multiprocessing.freeze_support()  # a process that works designs out starts this program again
    _own_libraries_for_us_alone()
    from rushlight.cli import main as run

    return run(sys.argv[1:] or ["open", "--leave-after", "15"])


def _own_libraries_for_us_alone() -> None:
    """The browser that we open is a program of the system and must not load the libraries of this folder."""
    before = os.environ.pop("LD_LIBRARY_PATH_ORIG", None)
    if before is not None:
        os.environ["LD_LIBRARY_PATH"] = before
    else:
        os.environ.pop("LD_LIBRARY_PATH", None)


if __name__ == "__main__":
    sys.exit(main())
