"""Pages of a PDF as pixels, and lengths measured in them."""

from __future__ import annotations

from itertools import groupby

import numpy as np
import numpy.typing as npt
import pypdfium2

MM_PER_INCH = 25.4
DARK = 128

Pixels = npt.NDArray[np.uint8]


def page_sizes_mm(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of every page."""
    with pypdfium2.PdfDocument(pdf) as document:
        return [tuple(v * MM_PER_INCH / 72 for v in page.get_size()) for page in document]  # type: ignore[misc]


def page_texts(pdf: bytes) -> list[str]:
    """The words of every page."""
    with pypdfium2.PdfDocument(pdf) as document:
        return [page.get_textpage().get_text_bounded() for page in document]


def rendered(pdf: bytes, page: int, dpi: float) -> Pixels:
    """One page in shades of grey, one channel, row 0 at the top."""
    with pypdfium2.PdfDocument(pdf) as document:
        bitmap = document[page].render(scale=dpi / 72, grayscale=True)
        pixels: Pixels = np.array(bitmap.to_numpy(), dtype=np.uint8).reshape(bitmap.height, bitmap.width, -1)[:, :, 0]
        return pixels


def widest_run_mm(pixels: Pixels, dpi: float) -> float:
    """The longest unbroken dark run of any row."""
    runs = (run for row in pixels if (run := _longest_run(row)) is not None)
    return max((end - start for start, end in runs), default=0) * MM_PER_INCH / dpi


def solid_bars_mm(pixels: Pixels, dpi: float, *, thick_mm: float, least_mm: float = 20.0) -> list[float]:
    """Lengths of filled bars of about this thickness: the runs that stay equally long over most of the thickness.

    A partly dark pixel at an end counts by its share, so that a length is not rounded to whole pixels.
    """
    rows = round(thick_mm * dpi / MM_PER_INCH)
    found: list[float] = []
    start = 0
    for key, group in groupby(_longest_run(row) for row in pixels):
        count = len(list(group))
        if key is not None and 0.7 * rows <= count <= 1.3 * rows + 2:
            found.append(_length_px(pixels[start + count // 2], key) * MM_PER_INCH / dpi)
        start += count
    return [length for length in found if length >= least_mm]


def _longest_run(row: Pixels) -> tuple[int, int] | None:
    edges = np.flatnonzero(np.diff(np.concatenate(([0], (row < DARK).astype(np.int8), [0]))))
    if not edges.size:
        return None
    starts, ends = edges[::2], edges[1::2]
    k = int(np.argmax(ends - starts))
    return (int(starts[k]), int(ends[k]))


def _length_px(row: Pixels, run: tuple[int, int]) -> float:
    first, last = max(run[0] - 1, 0), min(run[1] + 1, len(row))
    return float(np.sum(1.0 - row[first:last] / 255.0))
