"""Make the self-contained folder: `python3 start.py freeze`. Needs what requirements-freeze.lock names.

    python tools/freeze.py TARGET      writes TARGET/rushlight/, with the program `rushlight` in it
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent
NOT_NEEDED = ("tkinter", "matplotlib", "pytest", "setuptools", "pip", "IPython", "PyQt5", "PySide6")
"""What libraries would like to have and rushlight does not use."""

READ_ME = """rushlight: plan, check and build the lighting of a scale model before it is closed for good.

Double-click the program 'rushlight' in this folder. It opens your browser on a page of this computer alone; no internet
is needed and nothing leaves the computer. Your plans lie in 'rushlight plans' in your home folder. The program ends by
itself a quarter of an hour after its last page was closed; a window with its address, if there is one, may be closed.

Keep the folder together: the program needs what lies beside it. To remove it, delete the folder; your plans stay.
Licences of what is inside lie in '_internal', beside each library.
"""


def main() -> int:
    """Freeze into the folder that is named."""
    import PyInstaller.__main__ as maker

    target = Path(sys.argv[1] if len(sys.argv) > 1 else HERE.parent / "out" / "frozen").resolve()
    shutil.rmtree(target / "rushlight", ignore_errors=True)
    with tempfile.TemporaryDirectory() as work:
        words = ["--noconfirm", "--onedir", "--console", "--name", "rushlight", "--log-level", "WARN"]
        words += ["--distpath", str(target), "--workpath", work, "--specpath", work]
        words += ["--collect-all", "rushlight", "--copy-metadata", "rushlight"]
        for name in NOT_NEEDED:
            words += ["--exclude-module", name]
        maker.run([*words, str(HERE / "frozen_program.py")])
    (target / "rushlight" / "READ ME.txt").write_text(READ_ME, encoding="utf-8")
    print(f"written: {target / 'rushlight'}, {size_mb(target / 'rushlight'):.0f} MB")
    return 0


def size_mb(folder: Path) -> float:
    """What a folder holds [MB]."""
    return sum(path.stat().st_size for path in folder.rglob("*") if path.is_file() and not path.is_symlink()) / 1e6


if __name__ == "__main__":
    sys.exit(main())
