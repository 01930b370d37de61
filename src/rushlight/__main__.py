"""`python -m rushlight`: the same as the command `rushlight`."""

from __future__ import annotations

import sys

from rushlight.cli import main

if __name__ == "__main__":
    sys.exit(main())
