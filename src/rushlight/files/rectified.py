"""A part's picture laid on its own millimetres: turned, mirrored and rectified; the file itself is never changed."""

from __future__ import annotations

import io
import threading
from collections import OrderedDict
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from rushlight.errors import OutOfRange
from rushlight.files.pictures import open_picture, picture_facts, picture_stamp
from rushlight.geometry.gauge import Gauge, Matrix, fit_gauge
from rushlight.geometry.homography import NoFit
from rushlight.model.plan_part import Part, Picture

if TYPE_CHECKING:
    from PIL.Image import Image

PAPER_RGB = (247, 241, 229)
MOST_PX = 2400
PIXELS_PER_MM = 8.0
MARGIN_SHARE = 0.12
"""How far round the part's outline the picture is shown, as a share of the part's longer side."""

HELD_BYTES = 64_000_000
"""How much of laid pictures is held in memory."""


@dataclass(frozen=True, slots=True)
class LaidPicture:
    """A JPEG and the box that it covers on the part: left, low, right, top [mm]."""

    jpeg: bytes
    box_mm: tuple[float, float, float, float]


def laid_picture(folder: Path, part: Part) -> LaidPicture | None:
    """The picture of a part as it lies on the part's plane.

    Parameters
    ----------
    folder : Path
        The plan's folder.
    part : Part
        With a picture that has two points or at least four.
    Returns
    -------
    LaidPicture or None
        None if the part has no picture, or its points do not fix it.
    Raises
    ------
    DocumentProblem
        If the picture is missing, broken or enormous.
    Notes
    -----
    Laid pictures are held in memory, by the file's size and time and by all that decides how it lies.
    """
    if part.picture is None:
        return None
    to_mm = pixel_to_mm(part.picture)
    if to_mm is None:
        return None
    box = shown_box(part)
    key = (picture_stamp(folder, part.picture.file), to_mm, box)
    held = _HELD.get(key)
    if held is None:
        held = _HELD.keep(key, LaidPicture(_laid_jpeg(folder, part.picture.file, to_mm, box), box))
    return held


def shown_box(part: Part) -> tuple[float, float, float, float]:
    """Box round a part with its margin: left, low, right, top [mm]."""
    xs, ys = [p[0] for p in part.outline_mm], [p[1] for p in part.outline_mm]
    margin = MARGIN_SHARE * max(max(xs) - min(xs), max(ys) - min(ys))
    return min(xs) - margin, min(ys) - margin, max(xs) + margin, max(ys) + margin


def gauge_of(picture: Picture) -> Gauge | NoFit:
    """How the points of a picture fix its millimetres, mirrored and turned as the plan says."""
    return fit_gauge(
        [point.pixel for point in picture.points], [point.at_mm for point in picture.points],
        mirrored=picture.mirrored, turned_deg=picture.turned_deg,
    )


def pixel_to_mm(picture: Picture) -> Matrix | None:
    """The map from picture points to the part [px to mm], row by row; None where its points do not fix one.

    Notes
    -----
    Two points: the similarity that takes one to the other (a picture's y points down, so it is a mirrored one unless
    the picture shows the other side). Four and more: the homography of least squares. Then the turn.
    """
    fit = gauge_of(picture)
    return fit.matrix if isinstance(fit, Gauge) else None


class _Held:
    """Laid pictures in memory; the one that was longest not asked for goes first."""

    def __init__(self) -> None:
        self._kept: OrderedDict[object, LaidPicture] = OrderedDict()
        self._lock = threading.Lock()
        self._bytes = 0

    def get(self, key: object) -> LaidPicture | None:
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
            return self._kept.get(key)

    def keep(self, key: object, laid: LaidPicture) -> LaidPicture:
        with self._lock:
            if key not in self._kept:
                self._kept[key] = laid
                self._bytes += len(laid.jpeg)
            while self._bytes > HELD_BYTES and len(self._kept) > 1:
                self._bytes -= len(self._kept.popitem(last=False)[1].jpeg)
        return laid


_HELD = _Held()


def _laid_jpeg(folder: Path, file: str, to_mm: Matrix, box: tuple[float, float, float, float]) -> bytes:
    facts = picture_facts(folder, file)
    image = open_picture(folder, file)
    return _jpeg(_warped(image, to_mm, box, image.width / facts.width_px))


def _warped(image: Image, to_mm: Matrix, box: tuple[float, float, float, float], shrunk: float) -> Image:
    """The picture in the box, paper where it does not reach."""
    import numpy as np
    from PIL import Image as images

    left, low, right, top = box
    scale = min(PIXELS_PER_MM, MOST_PX / max(right - left, top - low))
    size = (max(1, round((right - left) * scale)), max(1, round((top - low) * scale)))
    out_to_mm = np.array([[1 / scale, 0.0, left], [0.0, -1 / scale, top], [0.0, 0.0, 1.0]])
    try:
        to_px = np.linalg.inv(np.array(to_mm))
    except np.linalg.LinAlgError as error:
        found = "a map that cannot be turned round"
        raise OutOfRange("points of a picture", found, "points that span an area") from error
    back = np.diag([shrunk, shrunk, 1.0]) @ to_px @ out_to_mm
    numbers = [float(number) for number in (back / back[2, 2]).ravel()[:8]]
    way = (images.Transform.PERSPECTIVE, numbers, images.Resampling.BICUBIC)
    laid = image.transform(size, *way, fillcolor=PAPER_RGB)
    middle = np.array(to_mm)[2] @ (image.width / shrunk / 2, image.height / shrunk / 2, 1.0)
    depth = back[2] * middle  # above 0 where a place lies before the camera, as the picture's middle does
    if min(depth @ (x, y, 1.0) for x in (0, size[0]) for y in (0, size[1])) <= 0:
        rows, columns = np.mgrid[0:size[1], 0:size[0]]
        behind = depth[0] * columns + depth[1] * rows + depth[2] <= 0
        laid.paste(PAPER_RGB, (0, 0), images.fromarray(np.uint8(behind) * 255))
    return laid


def _jpeg(image: Image) -> bytes:
    out = io.BytesIO()
    image.save(out, "JPEG", quality=86)
    return out.getvalue()
