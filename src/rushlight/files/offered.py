"""The outline that a part's own picture offers."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from rushlight.errors import OutOfRange
from rushlight.files.pictures import open_picture, picture_facts
from rushlight.files.rectified import pixel_to_mm, shown_box
from rushlight.geometry.contour import Box, NoOutline, OfferedOutline, offer_outline
from rushlight.geometry.gauge import Matrix
from rushlight.model.plan_part import Part

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PX = 1400
PIXELS_PER_MM = 10.0


def offered_outline(folder: Path, part: Part, *, tolerance_mm: float | None = None) -> OfferedOutline | NoOutline:
    """The outline of the part as its picture shows it, with holes as openings.

    Parameters
    ----------
    folder : Path
        The plan's folder.
    part : Part
        With a picture whose points fix its millimetres.
    tolerance_mm : float or None
        How far corners may be thinned; None: by the size of the pixels.
    Returns
    -------
    OfferedOutline or NoOutline
        On the part's own millimetres; or in words why there is none.
    Raises
    ------
    DocumentProblem
        If the picture is missing, broken or enormous.
    """
    to_mm = pixel_to_mm(part.picture) if part.picture else None
    if part.picture is None or to_mm is None:
        return NoOutline("no-picture", f"{part.name} has no picture whose millimetres are known.")
    facts = picture_facts(folder, part.picture.file)
    image = open_picture(folder, part.picture.file, longest_px=2400)
    box = _box(part, to_mm, (facts.width_px, facts.height_px))
    if box is None:
        return NoOutline("no-picture", f"The picture of {part.name} does not reach it.")
    rgb, known = _laid(image, to_mm, box, image.width / facts.width_px)
    return offer_outline(rgb, known, box, tolerance_mm=tolerance_mm)


def _box(part: Part, to_mm: Matrix, size_px: tuple[int, int]) -> Box | None:
    """What the picture covers of the part and of its surroundings as wide as the part itself."""
    import numpy as np

    left, low, right, top = shown_box(part)
    more = max(right - left, top - low)
    width, height = size_px
    corners = np.array(to_mm) @ np.array([[0, width, width, 0], [0, 0, height, height], [1, 1, 1, 1]], dtype=float)
    if (corners[2] <= 0).any() and (corners[2] >= 0).any():
        return left - more, low - more, right + more, top + more
    x, y = corners[0] / corners[2], corners[1] / corners[2]
    box = (max(left - more, float(x.min())), max(low - more, float(y.min())),
           min(right + more, float(x.max())), min(top + more, float(y.max())))
    return box if box[0] < box[2] and box[1] < box[3] else None


def _laid(image: Image, to_mm: Matrix, box: Box, shrunk: float) -> tuple[Any, Any]:
    """The picture in the box as rows of colours, and where it reaches."""
    import numpy as np
    from PIL import Image as images

    left, low, right, top = box
    scale = min(PIXELS_PER_MM, MOST_PX / max(right - left, top - low))
    size = (max(1, round((right - left) * scale)), max(1, round((top - low) * scale)))
    step = (right - left) / size[0]
    out_to_mm = np.array([[step, 0.0, left], [0.0, -step, top], [0.0, 0.0, 1.0]])
    try:
        back = np.diag([shrunk, shrunk, 1.0]) @ np.linalg.inv(np.array(to_mm)) @ out_to_mm
    except np.linalg.LinAlgError as error:
        found = "a map that cannot be turned round"
        raise OutOfRange("points of a picture", found, "points that span an area") from error
    numbers = [float(number) for number in (back / back[2, 2]).ravel()[:8]]
    way = (images.Transform.PERSPECTIVE, numbers, images.Resampling.BILINEAR)
    laid = np.asarray(image.convert("RGBA").transform(size, *way, fillcolor=(0, 0, 0, 0)))
    return laid[..., :3], laid[..., 3] > 250
