"""The files beside the book: tables, drawings and templates, each written whole or not at all."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from rushlight.files._atomic import write_atomic
from rushlight.model.sheet import Sheet
from rushlight.sheets.exports import exports


def write_parts(sheets: Sequence[Sheet], folder: Path) -> tuple[Path, ...]:
    """Every table as CSV in tables/, drawing as SVG in drawings/, template as DXF and SVG in templates/.

    Parameters
    ----------
    sheets : sequence of Sheet
        In book order.
    folder : Path
        The book's folder; made where it does not exist.
    Returns
    -------
    tuple of Path
        Files written, in book order. Files of the same names are replaced, others left alone.
    Raises
    ------
    OSError
        If the disk refuses.
    """
    return tuple(_written(folder / export.path, export.text) for export in exports(sheets))


def _written(path: Path, text: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    write_atomic(path, text.encode("utf-8"))
    return path
