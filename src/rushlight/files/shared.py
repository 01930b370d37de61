"""Pictures and the page that leave the house: small, and without a tag of place, camera or owner."""

from __future__ import annotations

import io
from pathlib import Path

from rushlight.errors import OutOfRange
from rushlight.files._atomic import write_atomic
from rushlight.files.rectified import LaidPicture, laid_picture
from rushlight.model.plan_part import Part

LONGEST_PX = 1400
QUALITY = 82


def shared_picture(folder: Path, part: Part) -> LaidPicture | None:
    """The picture of a part as it lies, drawn anew at most 1400 pixels long: nothing but pixels is kept.

    Returns
    -------
    LaidPicture or None
        None if the part has no picture with known points.
    Raises
    ------
    DocumentProblem
        If the picture is missing, broken or enormous.
    """
    from PIL import Image

    laid = laid_picture(folder, part)
    if laid is None:
        return None
    with Image.open(io.BytesIO(laid.jpeg)) as held:
        held.thumbnail((LONGEST_PX, LONGEST_PX))
        bare = Image.frombytes("RGB", held.size, held.convert("RGB").tobytes())
    out = io.BytesIO()
    bare.save(out, "JPEG", quality=QUALITY)
    return LaidPicture(out.getvalue(), laid.box_mm)


def write_page(path: Path, data: bytes) -> None:
    """Put a page, or a book, at its place, whole or not at all.

    Raises
    ------
    OutOfRange
        If the folder is not there or cannot be written to.
    """
    try:
        write_atomic(path, data)
    except OSError as error:
        wanted = f"a file in a folder that can be written to ({error.strerror})"
        raise OutOfRange("file to write", f"'{path}'", wanted) from error
