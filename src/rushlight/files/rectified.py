"""A part's picture laid on its own millimetres: turned, mirrored and rectified; the file itself is never changed."""

from __future__ import annotations

import io
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from rushlight.errors import OutOfRange
from rushlight.files.pictures import open_picture, picture_facts
from rushlight.model.place import Point
from rushlight.model.plan import Part, Picture

if TYPE_CHECKING:
    from PIL.Image import Image

PAPER_RGB = (247, 241, 229)
MOST_PX = 2400
PIXELS_PER_MM = 8.0
MARGIN_SHARE = 0.12
"""How far round the part's outline the picture is shown, as a share of the part's longer side."""

Matrix = tuple[tuple[float, float, float], ...]


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
    """
    if part.picture is None:
        return None
    to_mm = pixel_to_mm(part.picture)
    if to_mm is None:
        return None
    facts = picture_facts(folder, part.picture.file)
    image = open_picture(folder, part.picture.file)
    shrunk = image.width / facts.width_px
    box = shown_box(part)
    return LaidPicture(_jpeg(_warped(image, to_mm, box, shrunk)), box)


def shown_box(part: Part) -> tuple[float, float, float, float]:
    """Box round a part with its margin: left, low, right, top [mm]."""
    xs, ys = [p[0] for p in part.outline_mm], [p[1] for p in part.outline_mm]
    margin = MARGIN_SHARE * max(max(xs) - min(xs), max(ys) - min(ys))
    return min(xs) - margin, min(ys) - margin, max(xs) + margin, max(ys) + margin


def pixel_to_mm(picture: Picture) -> Matrix | None:
    """The map from picture points to the part [px to mm], row by row; None where its points do not fix one.

    Notes
    -----
    Two points: the similarity that takes one to the other (a picture's y points down, so it is a mirrored one unless
    the picture shows the other side). Four and more: the homography of least squares.
    """
    from rushlight.geometry.homography import Homography, fit_homography

    pixels = [point.pixel for point in picture.points]
    places = [point.at_mm for point in picture.points]
    if len(pixels) == 2:
        return _similarity(pixels, places, mirrored=picture.mirrored)
    if len(pixels) < 4:
        return None
    fit = fit_homography(pixels, places)
    return fit.matrix if isinstance(fit, Homography) else None


def _similarity(pixels: list[Point], places: list[Point], *, mirrored: bool) -> Matrix | None:
    sign = 1.0 if mirrored else -1.0
    (a, b), (p, q) = (complex(x, sign * y) for x, y in pixels), (complex(*place) for place in places)
    if a == b or p == q:
        return None
    turn = (q - p) / (b - a)
    shift = p - turn * a
    return (
        (turn.real, -sign * turn.imag, shift.real),
        (turn.imag, sign * turn.real, shift.imag),
        (0.0, 0.0, 1.0),
    )


def _warped(image: Image, to_mm: Matrix, box: tuple[float, float, float, float], shrunk: float) -> Image:
    """The picture in the box, paper where it does not reach."""
    import numpy as np
    from PIL import Image as images

    left, low, right, top = box
    scale = min(PIXELS_PER_MM, MOST_PX / max(right - left, top - low))
    size = (max(1, round((right - left) * scale)), max(1, round((top - low) * scale)))
    out_to_mm = np.array([[1 / scale, 0.0, left], [0.0, -1 / scale, top], [0.0, 0.0, 1.0]])
    try:
        back = np.diag([shrunk, shrunk, 1.0]) @ np.linalg.inv(np.array(to_mm)) @ out_to_mm
    except np.linalg.LinAlgError as error:
        found = "a map that cannot be turned round"
        raise OutOfRange("points of a picture", found, "points that span an area") from error
    numbers = [float(number) for number in (back / back[2, 2]).ravel()[:8]]
    way = (images.Transform.PERSPECTIVE, numbers, images.Resampling.BICUBIC)
    return image.transform(size, *way, fillcolor=PAPER_RGB)


def _jpeg(image: Image) -> bytes:
    out = io.BytesIO()
    image.save(out, "JPEG", quality=86)
    return out.getvalue()
