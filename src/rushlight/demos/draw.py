"""Draw the demo plans' pictures from the plans' own numbers: `python -m rushlight.demos.draw`.

Each part's drawing stands exactly where the calibration points in the plan put it, so plan and picture agree.
"""

from __future__ import annotations

from pathlib import Path

from rushlight.demos.extras import extra_lines
from rushlight.demos.pencil import Pixel, Sheet
from rushlight.demos.views import reference_pictures
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.plan_yaml import read_plan
from rushlight.model.place import Point
from rushlight.model.plan import Plan
from rushlight.model.plan_part import KeepOut, Opening, Part, Picture

DEMOS = ("tug", "lighthouse", "lantern")
MARGIN_PX = 40
FOOT_PX = 46
"""Room under the part for its title and the scale bar."""

TITLE_PX = 340
"""Width of the foot that the title and the bar's number take."""

FRAME_MM = 12.0
"""Distance of the faint lines that stand for planks, plates or stones."""


def main() -> None:
    """Write the pictures of every demo into its folder."""
    for demo in DEMOS:
        folder = demo_folder(demo) / "pictures"
        folder.mkdir(exist_ok=True)
        for name, data in pictures(demo).items():
            (folder / name).write_bytes(data)
            print(f"{folder / name}: {len(data)} bytes")


def demo_folder(demo: str) -> Path:
    """The plan folder of a demo."""
    return Path(__file__).parent / demo


def read_demo(demo: str) -> Plan:
    """The plan of a demo, read with the packaged drawer."""
    return read_plan(demo_folder(demo), read_drawer()).plan


def pictures(demo: str) -> dict[str, bytes]:
    """The PNG files of a demo, by file name."""
    plan = read_demo(demo)
    drawn = {part.picture.file: draw_part(plan, part, part.picture) for part in plan.parts if part.picture}
    return drawn | reference_pictures(demo, plan)


def draw_part(plan: Plan, part: Part, picture: Picture) -> bytes:
    """A pencil drawing of one part, with its openings and what keeps leads away."""
    place = Placing(picture)
    outline = [place.pixel(point) for point in part.outline_mm]
    sheet = Sheet(f"{plan.subject.title} {part.name}", *_size_px(part, place))
    sheet.shade(outline, dark=0.07)
    sheet.within(outline, _frames(part, place), dark=0.2)
    for line in extra_lines(part.name):
        sheet.within(outline, [[place.pixel(point) for point in line]], dark=0.45)
    for opening in part.openings:
        _draw_opening(sheet, opening, place)
    for keep_out in part.keep_outs:
        _draw_keep_out(sheet, keep_out, place)
    for bay in part.bays:
        corners = [place.pixel(point) for point in _corners(bay.rect_mm)]
        sheet.closed(corners, dark=0.55, thick_px=1.2)
        sheet.letter(_middle(corners), bay.name, size_px=15, dark=0.6, anchor="mm")
    for fold in part.relief.folds:
        sheet.stroke([place.pixel(fold.from_mm), place.pixel(fold.to_mm)], dark=0.5, thick_px=1.0)
    sheet.closed(outline, dark=0.85, thick_px=1.7, passes=2)
    _title(sheet, plan, part, place)
    return sheet.png()


class Placing:
    """Where a part's places fall on its picture, as the picture's calibration points say."""

    def __init__(self, picture: Picture) -> None:
        first = picture.points[0]
        other = next(p for p in picture.points if p.at_mm[0] != first.at_mm[0] and p.at_mm[1] != first.at_mm[1])
        self.px_per_mm = (other.pixel[0] - first.pixel[0]) / (other.at_mm[0] - first.at_mm[0])
        self._left = first.pixel[0] - self.px_per_mm * first.at_mm[0]
        self._foot = first.pixel[1] + self.px_per_mm * first.at_mm[1]

    def pixel(self, at_mm: Point) -> Pixel:
        """The pixel of a place."""
        return (self._left + self.px_per_mm * at_mm[0], self._foot - self.px_per_mm * at_mm[1])


def _size_px(part: Part, place: Placing) -> tuple[int, int]:
    pixels = [place.pixel(point) for point in part.outline_mm]
    wide = max(x for x, _ in pixels) + MARGIN_PX
    return (max(round(wide), 400), round(max(y for _, y in pixels) + MARGIN_PX + FOOT_PX))


def _frames(part: Part, place: Placing) -> list[list[Pixel]]:
    """Faint lines across a part, and along it where it is tall enough."""
    xs, ys = [x for x, _ in part.outline_mm], [y for _, y in part.outline_mm]
    low, high, left, right = min(ys), max(ys), min(xs), max(xs)
    across = [left + n * FRAME_MM for n in range(1, int((right - left) / FRAME_MM) + 1)]
    upright = [[(x, low), (x, high)] for x in across]
    level = [[(left, low + share * (high - low)), (right, low + share * (high - low))] for share in (0.25, 0.5, 0.75)]
    return [[place.pixel(point) for point in line] for line in (*upright, *level)]


def _draw_opening(sheet: Sheet, opening: Opening, place: Placing) -> None:
    corners = [place.pixel(point) for point in opening.shape_mm]
    sheet.rub_out(corners)
    sheet.hatch(corners, gap_px=9, dark=0.28, lean=0.6)
    sheet.closed(corners, dark=0.75, thick_px=1.3)


def _draw_keep_out(sheet: Sheet, keep_out: KeepOut, place: Placing) -> None:
    if keep_out.centre_mm and keep_out.radius_mm:
        sheet.circle(place.pixel(keep_out.centre_mm), keep_out.radius_mm * place.px_per_mm, dark=0.6)
        sheet.circle(place.pixel(keep_out.centre_mm), keep_out.radius_mm * place.px_per_mm * 0.4, dark=0.45)
        return
    corners = [place.pixel(p) for p in (_corners(keep_out.rect_mm) if keep_out.rect_mm else keep_out.outline_mm)]
    sheet.hatch(corners, gap_px=6, dark=0.4)
    sheet.closed(corners, dark=0.55, thick_px=1.1)


def _corners(rect_mm: tuple[float, float, float, float]) -> tuple[Point, ...]:
    x, y, wide, high = rect_mm
    return ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))


def _middle(corners: list[Pixel]) -> Pixel:
    return (sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners))


def _title(sheet: Sheet, plan: Plan, part: Part, place: Placing) -> None:
    foot = sheet.height_px - 22
    room_mm = (sheet.width_px - TITLE_PX) / place.px_per_mm
    bar_mm = next((length for length in (50, 20, 10) if length <= room_mm), 10)
    sheet.letter((MARGIN_PX, foot), f"{part.name}, from {part.drawn_from}", size_px=19, dark=0.85, anchor="lm")
    sheet.scale_bar((sheet.width_px - MARGIN_PX - bar_mm * place.px_per_mm - 60, foot), place.px_per_mm, bar_mm)


if __name__ == "__main__":
    main()
