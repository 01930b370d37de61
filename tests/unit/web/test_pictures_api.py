"""Pictures handed in through the API, and the gauge."""

from __future__ import annotations

import io
import os
import time

import pytest
from PIL import Image

from pinhole import Pinhole
from rushlight.files import keep_picture
from rushlight.web.pictures_api import ROUTES

BYTES = {"content-type": "application/octet-stream"}


def api(client, rest=""):
    return f"/api/plans/{client.plan}{rest}"


def state(client):
    return client.get(api(client)).json()


def encoded(form="JPEG", size=(120, 80), colour=(20, 120, 50), **more):
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, form, **more)
    return out.getvalue()


def hand_in(client, data, headers=BYTES, **query):
    return client.post(api(client, "/pictures"), params=query, content=data, headers=headers)


def error_of(answer, status, kind):
    assert answer.status_code == status, answer.text
    assert set(answer.json()) == {"error"}
    assert answer.json()["error"]["kind"] == kind
    return answer.json()["error"]["says"]


def test_a_picture_put_on_a_part_is_one_step(client, folder):
    data = encoded()
    answer = hand_in(client, data, name="Lid.JPG", **{"as": "part", "item": "lid"})
    assert answer.status_code == 201
    body = answer.json()
    assert body["kept"] | {"stamp": ""} == {"file": "Lid.jpg", "format": "JPEG", "width_px": 120, "height_px": 80, "film_mm": 0, "stamp": ""}
    assert body["plan"]["parts"][1]["picture"]["file"] == "Lid.jpg"
    assert body["steps"]["undo"] == "picture put on lid"
    assert (folder / "pictures" / "Lid.jpg").read_bytes() == data
    undone = client.post(api(client, "/undo")).json()
    assert undone["plan"]["parts"][1]["picture"] is None
    assert (folder / "pictures" / "Lid.jpg").read_bytes() == data
    again = client.post(api(client, "/redo")).json()
    assert again["plan"]["parts"][1]["picture"]["file"] == "Lid.jpg"
    assert again["pictures"] == []


def test_the_same_picture_again_changes_nothing_and_keeps_its_points(client, folder):
    data = (folder / "pictures" / "hull.png").read_bytes()
    before = state(client)
    body = hand_in(client, data, name="anything.png", **{"as": "part", "item": "hull"}).json()
    assert body["kept"]["file"] == "hull.png"
    assert (body["revision"], body["plan"]["parts"][0]) == (before["revision"], before["plan"]["parts"][0])


def test_another_picture_takes_the_place_without_the_old_points(client):
    body = hand_in(client, encoded(), name="hull.png", **{"as": "part", "item": "hull"}).json()
    picture = body["plan"]["parts"][0]["picture"]
    assert (picture["file"], picture["points"]) == ("hull.jpg", [])
    assert client.get(api(client, "/parts/0/picture")).status_code == 404


def test_kept_alone_and_among_the_references(client):
    before = state(client)["revision"]
    kept = hand_in(client, encoded(), name="bench.jpg").json()
    assert (kept["kept"]["file"], kept["revision"]) == ("bench.jpg", before)
    seen = hand_in(client, encoded(), name="again.jpg", **{"as": "reference"}).json()
    assert seen["plan"]["references"][-1] | {"marks": []} == seen["plan"]["references"][-1] | {"name": "bench", "file": "bench.jpg"}
    more = hand_in(client, encoded(), **{"as": "reference"}).json()
    assert len(more["plan"]["references"]) == 3


def test_a_change_elsewhere_meanwhile_is_a_clash_and_the_picture_is_kept(client, folder):
    seen = state(client)["revision"]
    hand_in(client, encoded(), name="a.jpg", **{"as": "part", "item": "lid"})
    error_of(hand_in(client, encoded(colour=(1, 1, 1)), name="b.jpg", revision=seen, **{"as": "part", "item": "lid"}), 409, "clash")
    assert (folder / "pictures" / "b.jpg").exists()
    assert state(client)["plan"]["parts"][1]["picture"]["file"] == "a.jpg"


def test_what_is_refused_before_it_is_read(client, folder):
    before = sorted(os.listdir(folder / "pictures"))
    error_of(hand_in(client, encoded(), headers={"content-type": "multipart/form-data"}), 415, "request")
    error_of(hand_in(client, encoded(), **{"as": "part", "item": "hul"}), 404, "unknown")
    error_of(hand_in(client, encoded(), **{"as": "wallpaper"}), 422, "refused")
    error_of(client.post("/api/plans/0123456789ab/pictures", content=b"", headers=BYTES), 404, "unknown")
    huge = {**BYTES, "content-length": "900000000"}
    error_of(hand_in(client, iter([b""]), headers=huge), 413, "request")
    foreign = {**BYTES, "origin": "http://evil.example"}
    error_of(hand_in(client, encoded(), headers=foreign), 403, "foreign")
    assert sorted(os.listdir(folder / "pictures")) == before


def test_what_is_no_picture_is_told_and_not_kept(client, folder, monkeypatch):
    before, plan = sorted(os.listdir(folder / "pictures")), (folder / "plan.yaml").read_bytes()
    heic = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + b"\0" * 100
    says = error_of(hand_in(client, heic, name="IMG.jpg", **{"as": "part", "item": "lid"}), 422, "problem")
    assert "HEIC" in says and "most compatible" in says
    for data in (b"", b"%PDF-1.4", b"<svg/>", encoded()[:300]):
        error_of(hand_in(client, data, name="a.jpg", **{"as": "part", "item": "lid"}), 422, "problem")
    monkeypatch.setattr(keep_picture, "MOST_BYTES", 2000)
    says = error_of(hand_in(client, b"\xff\xd8" * 5000, name="a.jpg"), 422, "problem")
    assert "MB" in says
    assert sorted(os.listdir(folder / "pictures")) == before
    assert (folder / "plan.yaml").read_bytes() == plan


def test_names_that_want_out_stay_in(client, folder):
    for name in ("../../plan.yaml", "/etc/passwd", "..\\..\\plan.yaml", "<b>x</b>.png"):
        file = hand_in(client, encoded(colour=(len(name), 0, 0)), name=name).json()["kept"]["file"]
        assert (folder / "pictures" / file).is_file()
    assert sorted(path.name for path in folder.iterdir() if path.is_file()) == ["history.db", "plan.yaml"]


def test_a_picture_in_its_own_pixels(client, folder):
    tags = Image.Exif()
    tags[274] = 6
    hand_in(client, encoded(exif=tags), name="upright.jpg")
    facts = client.get(api(client, "/photo-facts/upright.jpg")).json()
    assert (facts["width_px"], facts["height_px"]) == (80, 120)
    answer = client.get(api(client, "/photos/upright.jpg?of=1"))
    assert answer.headers["content-type"] == "image/jpeg" and "immutable" in answer.headers["cache-control"]
    assert Image.open(io.BytesIO(answer.content)).size == (80, 120)
    for file in ("none.jpg", "..%2fplan.yaml", "../plan.yaml"):
        assert client.get(api(client, f"/photos/{file}")).status_code in (404, 422)
        assert client.get(api(client, f"/photo-facts/{file}")).status_code in (404, 422)


def test_pages_hidden_in_a_picture_are_not_handed_out(client):
    hand_in(client, encoded() + b"<script>alert(1)</script>", name="a.jpg")
    assert b"script" not in client.get(api(client, "/photos/a.jpg")).content


# --- the gauge ----------------------------------------------------------------------------------------------------

SHEET = [(0.0, 0.0), (210.0, 0.0), (210.0, 297.0), (0.0, 297.0)]
VIEW = Pinhole(3000, 4000, 3000, height_mm=600, foot_mm=(105, -60), tilt_deg=20)


def body_of(places, view=VIEW, **more):
    points = [{"pixel": list(pixel), "at_mm": list(place)} for pixel, place in zip(view.seen(places), places, strict=True)]
    return {"points": points, "width_px": view.width_px, "height_px": view.height_px, **more}


def gauge(client, body):
    answer = client.post(api(client, "/gauge"), json=body)
    assert answer.status_code == 200, answer.text
    return answer.json()


def test_four_corners_cannot_check_themselves(client):
    seen = gauge(client, body_of(SHEET, corners_mm=[[0, 0], [150, 0], [150, 200], [0, 200]]))
    assert seen["fits"] and seen["residual"] is None
    assert seen["verdict"]["kind"] == "good" and not seen["verdict"]["proved"]
    assert "Four points always fit" in seen["verdict"]["unproved"]
    assert seen["mm_per_px"]["least"] < seen["mm_per_px"]["middle"] < seen["mm_per_px"]["most"]
    assert 0.1 < seen["unsure"]["mm"] < 0.3 and seen["unsure"]["click_px"] == 1


def test_a_check_proves_or_disproves(client):
    ends = VIEW.seen([(10.0, 20.0), (160.0, 20.0)])
    check = {"from_px": list(ends[0]), "to_px": list(ends[1]), "length_mm": 150}
    part = [[0, 0], [150, 0], [150, 200], [0, 200]]
    good = gauge(client, body_of(SHEET, checks=[check], corners_mm=part))
    assert good["checks"][0]["off_mm"] == pytest.approx(0, abs=1e-6)
    assert good["verdict"]["proved"] and good["verdict"]["kind"] == "good"
    bad = gauge(client, body_of(SHEET, checks=[{**check, "length_mm": 146}], corners_mm=part))
    assert bad["checks"][0]["off_mm"] == pytest.approx(4, abs=1e-6)
    assert (bad["verdict"]["kind"], bad["verdict"]["from"]) == ("rough", "the check")


def test_more_points_tell_what_they_disagree_by(client):
    body = body_of([*SHEET, (105.0, 150.0), (50.0, 250.0)])
    body["points"][4]["pixel"][0] += 30
    seen = gauge(client, body)
    assert seen["residual"]["worst_point"] == 5 and seen["residual"]["worst_px"] > 8
    assert seen["verdict"]["kind"] == "rough" and seen["verdict"]["proved"]


def test_two_points(client):
    square = Pinhole(3000, 4000, 3000, height_mm=1000, foot_mm=(100, 100))
    seen = gauge(client, body_of([(0.0, 0.0), (200.0, 0.0)], square))
    assert seen["mm_per_px"]["least"] == pytest.approx(1 / 3) == pytest.approx(seen["mm_per_px"]["most"])
    assert seen["unsure"]["mm"] == pytest.approx(2**0.5 / 3)  # derived: at one of the two points itself
    assert "Two points always fit" in seen["verdict"]["unproved"]
    turned = gauge(client, body_of([(0.0, 0.0), (200.0, 0.0)], square, turned_deg=90))
    assert turned["to_mm"][0][2] == pytest.approx(-seen["to_mm"][1][2])


def test_hints_of_nearness_height_and_a_swapped_sheet(client):
    near = Pinhole(3000, 4000, 3000, height_mm=400, foot_mm=(100, 100))
    film = 3000 * 43.2666 / 5000
    seen = gauge(client, body_of(SHEET, near, film_mm=film, above_mm=10))
    assert seen["camera"]["height_mm"] == pytest.approx(400, rel=1e-3)
    assert "0.4 m" in seen["hints"][0] and "leans outward" in seen["hints"][0]
    assert "10 mm above" in seen["hints"][1] and "2.6 % too large" in seen["hints"][1]  # derived: 10/390
    far = gauge(client, body_of(SHEET, near, camera_mm=1000))
    assert far["hints"] == []
    assert "From how far" in gauge(client, body_of(SHEET, near, above_mm=3))["hints"][0]
    swapped = body_of(SHEET, near)
    for point, place in zip(swapped["points"], [[0, 0], [297, 0], [297, 210], [0, 210]], strict=True):
        point["at_mm"] = place
    assert "swapped" in gauge(client, swapped)["hints"][0]


def test_points_that_fix_nothing(client):
    for body in ({**body_of(SHEET), "points": []}, body_of(SHEET[:3]), body_of([(1.0, 1.0), (1.0, 1.0)]), body_of([(n, 0.0) for n in range(5)])):
        seen = gauge(client, body)
        assert not seen["fits"] and seen["why"]


@pytest.mark.parametrize("change", [
    {"points": 3}, {"points": [3]}, {"points": [{"pixel": [1, "x"], "at_mm": [0, 0]}]}, {"points": [{}] * 401}, {"width_px": 0},
    {"turned_deg": "left"}, {"checks": [{}]}, {"corners_mm": [[1]]}, {"points": [{"pixel": [1e300, 0], "at_mm": [0, 0]}]},
    {"checks": [{"from_px": [0, 0], "to_px": [1, 1], "length_mm": -1}]}, {"width_px": True},
])
def test_a_gauge_of_bad_numbers_is_refused(client, change):
    error_of(client.post(api(client, "/gauge"), json={**body_of(SHEET), **change}), 422, "refused")


def test_the_gauge_is_quick(client):
    """Asked for while a point is dragged: no timing here, only that nothing is read or written (see benchmarks)."""
    before = time.perf_counter()
    gauge(client, body_of(SHEET, corners_mm=[[n, n % 7] for n in range(2000)]))
    assert time.perf_counter() - before < 5


def test_every_route_is_tried_here():
    from pathlib import Path

    text = Path(__file__).read_text(encoding="utf-8")
    for route in ROUTES:
        last = [word for word in route.path.split("/") if word and not word.startswith("{")][-1]
        assert f"/{last}" in text, route.path
