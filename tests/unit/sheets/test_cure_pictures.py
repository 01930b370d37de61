"""The told cure of a strip's windows, drawn: before and after at one scale."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from designed import designed
from rushlight.model.sheet import Drawing, Picture, Text
from rushlight.optics.display import decoded
from rushlight.sheets.cure_pictures import cure_pictures
from rushlight.sheets.svg import to_svg
from rushlight.sheets.windows import window_blocks
from rushlight.stages.strip_cures import strip_cures
from strip_plans import ODD, POST, wall

THREE = ("[60, 23, 20, 6]", "[100, 23, 20, 6]", "[140, 23, 20, 6]")


def lights(drawing: Drawing) -> list[np.ndarray]:
    """Luminance over white of each picture, in the drawing's order."""
    marks = [mark for layer in drawing.layers for mark in layer.marks if isinstance(mark, Picture)]
    return [decoded(np.array(Image.open(io.BytesIO(mark.png)))) for mark in marks]


def test_an_even_strip_has_no_picture_of_a_cure() -> None:
    assert cure_pictures(designed(wall(("[60, 25, 40, 2]",), along="[[0, 26], [250, 26]]"))) == []


@pytest.mark.parametrize("name", ["aside", "two windows", "turned"])
def test_pictures_are_as_uneven_as_the_numbers_say(name: str) -> None:
    made = designed(ODD[name])
    drawing = next(row for row in cure_pictures(made) if row.key == "cure-even-glow")
    cures = strip_cures(made, "glow")
    trial = cures.reaching[0]
    shown = lights(drawing)
    before, after = shown[:len(shown) // 2], shown[len(shown) // 2:]
    assert max(row.max() for row in shown) == pytest.approx(1.0, abs=0.01)
    for rows, ratio in ((before, cures.ratio), (after, trial.ratio)):
        # code values of a dark place are coarse, and the picture's places lie between those of the law
        assert max(row.max() / max(row.min(), 1e-3) for row in rows) == pytest.approx(ratio, rel=0.12)


def test_windows_unlike_each_other_are_shown_at_one_scale() -> None:
    made = designed(wall(THREE, along="[[50, 26], [130, 26]]", gap=20))
    drawing = next(row for row in cure_pictures(made) if row.key == "cure-alike-glow")
    cures = strip_cures(made, "glow", goal="alike")
    means = [float(row.mean()) for row in lights(drawing)]
    assert max(means[:3]) / min(means[:3]) == pytest.approx(cures.apart, rel=0.1)
    assert max(means[3:]) / min(means[3:]) == pytest.approx(cures.reaching[0].apart, rel=0.05)
    assert "White is " in drawing.caption and "let it run on by" in drawing.caption


def test_many_windows_show_those_that_matter_and_say_so() -> None:
    many = tuple(f"[{20 + 40 * k}, 23, 20, 6]" for k in range(7))
    drawing = next(row for row in cure_pictures(designed(wall(many, along="[[10, 26], [160, 26]]", wide=320)))
                   if row.key == "cure-alike-glow")
    names = [mark.text for layer in drawing.layers for mark in layer.marks if isinstance(mark, Text)]
    assert len(names) == 2 * (4 + 1) and names.count("w6") == 2 and "now" in names and drawing.caption.endswith("4 of 7 windows.")


def test_a_post_and_its_shadow_are_shown_and_gone() -> None:
    made = designed(wall(("[60, 20, 40, 12]",), more=POST))
    drawing = next(row for row in cure_pictures(made) if row.key == "cure-post-glow")
    before, after = lights(drawing)
    assert before.min() / before.max() < 0.6 * after.min() / after.max()


def test_a_picture_weighs_little_and_stands_below_the_table() -> None:
    made = designed(wall(THREE, along="[[50, 26], [130, 26]]", gap=20))
    drawings = cure_pictures(made)
    assert all(len(to_svg(drawing)) < 20_000 for drawing in drawings)
    keys = [block.key for block in window_blocks(made)]
    assert keys.index("strip-cures") + 1 == keys.index(drawings[0].key)
