"""Makes the pictures of the README from the tug's book: `python docs/make_pictures.py`."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path

import pypdfium2
from PIL import Image, ImageChops

from rushlight.open_plan import copy_demo, open_plan, write_book

HERE = Path(__file__).parent / "pictures"
DOTS_PER_INCH = 110
MARGIN_PX = 14
GAP_PT = 6.0


@dataclass(frozen=True, slots=True)
class Wanted:
    """A picture: its file, the words that its page holds, and which band of the page it shows, from the top.

    `between`, where it is given, replaces top and bottom: words that stand at its upper edge and just below it. `soft`
    where its tones run into one another.
    """

    file: str
    words: tuple[str, ...]
    top: float = 0.0
    bottom: float = 1.0
    soft: bool = False
    between: tuple[str, str] | None = None


WANTED = (
    Wanted("part.png", ("Hull starboard", "Hull starboard", "Lamps and holes"), 0.065, 0.41),
    Wanted("dark.png", ("In the dark", "Alongside"), 0.065, 0.5, soft=True),
    Wanted("template.png", ("Hull starboard: templates", "drilling template"), 0.065, 0.43),
    Wanted("bundles.png", ("Bundles in section", "seen from the fan-out"), 0.065, 0.64),
    Wanted("circuit.png", ("Circuit", "has its own resistor in its plus lead"), 0.065, 0.6),
    Wanted("meter.png", ("supply out", "then back to V", "LED side"), between=("Switch: off", ": the meter. Below")),
    Wanted("stands.png", ("In the dark, as it stands", "Alongside, as it stands."), 0.107, 0.41, soft=True),
    Wanted("order.png", ("Build order", "Bench test each circuit"), 0.065, 0.43),
)


def main() -> None:
    """Design the tug, write its book, cut the pictures out of its pages."""
    HERE.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        book = write_book(open_plan(copy_demo("tug", Path(folder) / "tug"))).pdf
        pages = list(pypdfium2.PdfDocument(book.read_bytes()))
    texts = [page.get_textpage().get_text_bounded() for page in pages]
    for wanted in WANTED:
        number = next(k for k, text in enumerate(texts) if all(word in text for word in wanted.words))
        save(pages[number], wanted)


def blank_row(picture: Image.Image, row: int) -> int:
    """The nearest row with nothing on it, up or down, so that no line of text and no drawing is cut."""
    grey = picture.convert("L")
    rows = [k for k in range(grey.height) if grey.crop((0, k, grey.width, k + 1)).getextrema()[0] >= 250]
    return min(rows, key=lambda k: abs(k - row), default=row)


def shares_between(page: pypdfium2.PdfPage, first: str, last: str) -> tuple[float, float]:
    """From just above the first words to just above the last ones, as shares of the page from its top."""
    held, high = page.get_textpage(), page.get_height()
    tops = []
    for words in (first, last):
        found = held.search(words, match_case=True).get_next()
        if found is None:
            raise ValueError(f"'{words}' is not on the page")
        tops.append((high - held.get_charbox(found[0])[3] - GAP_PT) / high)
    return tops[0], tops[1]


def save(page: pypdfium2.PdfPage, wanted: Wanted) -> None:
    """One band of a page, its white border cut off, in few colours."""
    picture = page.render(scale=DOTS_PER_INCH / 72).to_pil().convert("RGB")
    edges = (wanted.top, wanted.bottom) if wanted.between is None else shares_between(page, *wanted.between)
    top, bottom = (blank_row(picture, int(share * picture.height)) for share in edges)
    band = picture.crop((0, top, picture.width, bottom))
    box = ImageChops.difference(band, Image.new("RGB", band.size, "white")).getbbox() or (0, 0, *band.size)
    left, top, right, bottom = box
    cut = Image.new("RGB", (right - left + 2 * MARGIN_PX, bottom - top + 2 * MARGIN_PX), "white")
    cut.paste(band.crop(box), (MARGIN_PX, MARGIN_PX))
    few = cut.quantize(256) if wanted.soft else cut.quantize(96, dither=Image.Dither.NONE)
    few.save(HERE / wanted.file, optimize=True)
    print(f"{wanted.file}: {(HERE / wanted.file).stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
