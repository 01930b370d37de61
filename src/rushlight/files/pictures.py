"""Pictures of a plan: checked before they are trusted, opened no larger than asked for."""

from __future__ import annotations

import struct
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from rushlight.errors import DocumentProblem
from rushlight.files._paths import PICTURES
from rushlight.model.plan import Plan
from rushlight.model.problem import Problem

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_BYTES = 100_000_000
MOST_PIXELS = 80_000_000
LONGEST_PX = 30_000
FORMATS = ("PNG", "JPEG", "WEBP", "TIFF", "BMP", "GIF")
_TURNED_ON_SIDE = (5, 6, 7, 8)
_ORIENTATION_TAG = 274
_EXIF_TAG, _FILM_TAG = 34665, 41989
LEAST_FILM_MM, MOST_FILM_MM = 5.0, 3000.0


@dataclass(frozen=True, slots=True)
class PictureFacts:
    """What a picture file says of itself; width and height as it is looked at (its orientation tag obeyed).

    `film_mm` is the focal length in terms of 35 mm film, 0 where the file does not state it.
    """

    file: str
    format: str
    width_px: int
    height_px: int
    orientation: int
    film_mm: float = 0.0


def picture_facts(folder: Path, file: str) -> PictureFacts:
    """Size and orientation of one picture, from its header.

    Parameters
    ----------
    folder : Path
        The plan's folder.
    file : str
        Name inside its folder pictures/.
    Returns
    -------
    PictureFacts
        Width and height in pixels.
    Raises
    ------
    DocumentProblem
        If the file is missing, no picture, broken or enormous, or lies outside the folder.
    """
    path = _checked_path(folder, file)
    with _opened(path, file) as image:
        orientation, film = _tags(image)
        width, height = image.size
        kind = image.format or ""
    if orientation in _TURNED_ON_SIDE:
        width, height = height, width
    return PictureFacts(file, kind, width, height, orientation, film)


def picture_stamp(folder: Path, file: str) -> tuple[str, int, int]:
    """What tells one state of a picture's file from another: its path, length and time of change.

    Raises
    ------
    DocumentProblem
        If the file is missing or too large, or lies outside the folder.
    """
    path = _checked_path(folder, file)
    seen = path.stat()
    return str(path), seen.st_size, seen.st_mtime_ns


def picture_problems(plan: Plan, folder: Path) -> tuple[Problem, ...]:
    """Every picture of the plan that is missing, no picture, broken or enormous.

    Parameters
    ----------
    plan : Plan
        Its parts' pictures, references and photographs of the work are looked at.
    folder : Path
        The plan's folder.
    Returns
    -------
    tuple of Problem
        In the order of the plan; each file once.
    """
    problems: dict[str, Problem] = {}
    for item, file in _files(plan):
        if file not in problems:
            try:
                picture_facts(folder, file)
            except DocumentProblem as error:
                first = error.problems[0]
                problems[file] = Problem(file=first.file, line=0, column=0, item=item, found=first.found,
                                         expected=first.expected)
    return tuple(problems.values())


def open_picture(folder: Path, file: str, *, longest_px: int = 4096) -> Image:
    """The picture as it is looked at, in RGB, its longer side at most `longest_px`.

    Raises
    ------
    DocumentProblem
        As `picture_facts`, and if the picture's data end early.
    """
    from PIL import ImageOps

    path = _checked_path(folder, file)
    with _opened(path, file) as image:
        try:
            image.thumbnail((longest_px, longest_px))
            return ImageOps.exif_transpose(image).convert("RGB")
        except (OSError, ValueError, SyntaxError) as error:
            raise _problem(file, f"a picture that breaks off ({error})", "a whole picture") from error


def _tags(image: Image) -> tuple[int, float]:
    """Orientation, and focal length in terms of 35 mm film [mm]; 1 and 0 where nothing can be read."""
    try:
        tags = image.getexif()
        orientation = int(tags.get(_ORIENTATION_TAG, 1) or 1)
    except (OSError, ValueError, SyntaxError, TypeError, OverflowError):
        return 1, 0.0
    try:
        film = float(tags.get_ifd(_EXIF_TAG).get(_FILM_TAG, 0) or 0)
    except (OSError, ValueError, SyntaxError, TypeError, OverflowError, KeyError, struct.error):
        film = 0.0
    return (orientation if orientation in range(1, 9) else 1), (film if LEAST_FILM_MM <= film <= MOST_FILM_MM else 0.0)


def picture_files(plan: Plan) -> tuple[str, ...]:
    """Every picture that a plan names, from its folder."""
    return tuple(dict.fromkeys(f"{PICTURES}/{file}" for _, file in _files(plan)))


def _files(plan: Plan) -> Iterator[tuple[str, str]]:
    for part in plan.parts:
        if part.picture:
            yield f"part '{part.name}'", part.picture.file
    for reference in plan.references:
        if reference.file:
            yield f"reference '{reference.name}'", reference.file
    for done in plan.as_built:
        if done.photo:
            yield f"as built '{done.step}'", done.photo


def _problem(file: str, found: str, expected: str) -> DocumentProblem:
    return DocumentProblem([Problem(file=f"{PICTURES}/{file}", line=0, column=0, item="", found=found,
                                    expected=expected)])


def _checked_path(folder: Path, file: str) -> Path:
    """The picture's path, if it is a file of bearable size inside pictures/ (links followed)."""
    home = (folder / PICTURES).resolve()
    path = (home / file).resolve()
    if not path.is_relative_to(home) or path == home:
        raise _problem(file, "a file outside the plan's folder pictures/", "a file in it")
    if not path.is_file():
        raise _problem(file, "no such file" if not path.exists() else "no file", "a picture")
    size = path.stat().st_size
    if size > MOST_BYTES:
        raise _problem(file, f"{size / 1e6:.0f} MB", f"a picture of at most {MOST_BYTES / 1e6:.0f} MB")
    return path


def _opened(path: Path, file: str) -> Image:
    """The picture, header read and checked, data not yet decoded."""
    from PIL import Image, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            image = Image.open(path, formats=FORMATS)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise _problem(file, "an enormous picture", f"at most {MOST_PIXELS / 1e6:.0f} million pixels") from None
    except UnidentifiedImageError:
        raise _problem(file, "not a picture", "a picture: " + ", ".join(FORMATS)) from None
    except (OSError, ValueError, SyntaxError, Warning, MemoryError) as error:
        raise _problem(file, f"a picture that is broken ({error})", "a whole picture") from error
    width, height = image.size
    if width * height > MOST_PIXELS or max(width, height) > LONGEST_PX:
        image.close()
        raise _problem(file, f"an enormous picture, {width} x {height} pixels",
                       f"at most {MOST_PIXELS / 1e6:.0f} million pixels, no side over {LONGEST_PX}")
    return image
