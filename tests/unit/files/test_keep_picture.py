"""Pictures that are handed in: checked, named safely, kept once, never written over."""

from __future__ import annotations

import errno
import io
import json
import os
import struct
import threading
import zlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from plans import board
from rushlight.errors import DocumentProblem
from rushlight.files import keep_picture as module
from rushlight.files import pictures
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.keep_picture import Incoming, free_names, keep_picture
from rushlight.files.pictures import open_picture
from rushlight.files.plan_yaml import parse_plan


def encoded(form="JPEG", size=(40, 30), colour=(200, 100, 50), **more):
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, form, **more)
    return out.getvalue()


def noisy(form="JPEG"):
    out = io.BytesIO()
    Image.effect_noise((300, 200), 90).convert("RGB").save(out, form)
    return out.getvalue()


def names(folder):
    home = folder / "pictures"
    return sorted(path.name for path in home.iterdir()) if home.exists() else []


def refused(folder, name, data, says):
    with pytest.raises(DocumentProblem, match=says) as error:
        keep_picture(folder, name, data)
    assert ".being-kept" not in str(error.value)
    assert names(folder) == []
    return str(error.value)


@pytest.mark.parametrize(("form", "ending"), [
    ("PNG", ".png"), ("JPEG", ".jpg"), ("WEBP", ".webp"), ("TIFF", ".tif"), ("BMP", ".bmp"), ("GIF", ".gif")])
def test_the_bytes_are_kept_as_they_are_and_the_ending_tells_their_form(tmp_path, form, ending):
    data = encoded(form)
    facts = keep_picture(tmp_path, "Hull side.heic", data)
    assert (facts.file, facts.format, facts.width_px, facts.height_px) == ("Hull side-heic" + ending, form, 40, 30)
    assert (tmp_path / "pictures" / facts.file).read_bytes() == data
    assert names(tmp_path) == [facts.file]


def test_same_bytes_same_file_and_same_name_other_bytes_a_free_name(tmp_path):
    one, two = encoded(), encoded(colour=(1, 2, 3))
    assert keep_picture(tmp_path, "hull.jpg", one).file == "hull.jpg"
    assert keep_picture(tmp_path, "other.jpg", one).file == "hull.jpg"
    assert keep_picture(tmp_path, "HULL.jpeg", two).file == "HULL 2.jpg"
    assert (tmp_path / "pictures" / "hull.jpg").read_bytes() == one
    assert names(tmp_path) == ["HULL 2.jpg", "hull.jpg"]


HOSTILE = [
    "../../plan.yaml", "..", ".", "", "/etc/passwd", "C:\\windows\\system32\\a.jpg", "a\0b.jpg", "CON.jpg", "nul", "lpt1.png",
    ".hidden.jpg", "a" * 400 + ".jpg", "x/../../y.png", "<img src=x onerror=1>.jpg", "a\nb\r.jpg", "-rf.jpg", " .jpg", "...jpg",
    "\u202egpj.exe", "漢字.jpg", "ünï.jpeg", "a%2f..%2fb.png", "~", "a:b.jpg", "|;&$`.jpg", "\ud800.jpg",
]


@pytest.mark.parametrize("name", HOSTILE, ids=ascii)
def test_hostile_names_stay_in_the_folder(tmp_path, name):
    home = tmp_path / "plan"
    home.mkdir()
    facts = keep_picture(home, name, encoded())
    assert names(home) == [facts.file]
    assert [path.name for path in tmp_path.iterdir()] == ["plan"]
    assert facts.file.endswith(".jpg")
    _reads_in_a_plan(facts.file)


def _reads_in_a_plan(file):
    """What the app calls a picture must be a name that plan.yaml may hold."""
    text = board() + f"references: [{{name: it, file: {json.dumps(file)}}}]\n"
    assert parse_plan(text, "plan.yaml", read_drawer()).references[0].file == file


@given(st.text(max_size=100))
@settings(max_examples=150, deadline=None)
def test_any_name_is_made_safe(name):
    first = next(iter(free_names(name, ".jpg")))
    stem = first.removesuffix(".jpg")
    assert stem and len(stem) <= 70 and stem == stem.strip(" .-") and first == " ".join(first.split())
    assert not set(first) & set('/\\:*?"<>|\0\n') and ".." not in first


HEIC = struct.pack(">I", 24) + b"ftypheic" + b"\0\0\0\0" + b"mif1heic" + b"\0" * 200


@pytest.mark.parametrize("data", [HEIC, struct.pack(">I", 24) + b"ftypmif1\0\0\0\0mif1heix" + b"\0" * 50], ids=["heic", "mif1"])
@pytest.mark.parametrize("name", ["IMG_1.HEIC", "IMG_1.jpg"])
def test_heic_by_its_bytes_says_how_to_convert(tmp_path, data, name):
    says = refused(tmp_path, name, data, "HEIC")
    assert "most compatible" in says and "JPEG" in says


@pytest.mark.parametrize(("data", "says"), [
    (b"", "empty"), (b"<svg xmlns='x'><script/></svg>", "SVG"), (b"<?xml version='1.0'?>\n<svg/>", "SVG"), (b"%PDF-1.7 ...", "PDF"),
    (b"PK\x03\x04....", "archive"), (b"<!DOCTYPE html><html>", "web page"), (b"just words", "not a picture"),
    (struct.pack(">I", 24) + b"ftypisom\0\0\0\0isommp42", "film"), (struct.pack(">I", 24) + b"ftypavif\0\0\0\0mif1avif", "AVIF"),
    (b"\x00\x00\x00\x0cJXL \r\n\x87\n", "cannot be read"), (b"GIF89a", "broken|not a picture"), (b"\xff\xd8\xff\xe0", "broken|not a picture"),
])
def test_what_is_no_picture_is_told_in_words(tmp_path, data, says):
    refused(tmp_path, "a.jpg", data, says)


def test_a_heic_box_that_lies_about_its_length_is_no_trouble(tmp_path):
    refused(tmp_path, "a.jpg", b"\xff\xff\xff\xffftypxxxx", "film")


def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(width, height, packed, extra=b""):
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + extra + chunk(b"IDAT", packed) + chunk(b"IEND", b"")


@pytest.mark.parametrize("size", [(60_000, 60_000), (9000, 9000), (40_000, 10)])
def test_decompression_bombs_by_their_size(tmp_path, size):
    refused(tmp_path, "a.png", png(*size, zlib.compress(b"\0" * 10_000)), "enormous")


def test_decompression_bombs_in_their_texts_and_profiles(tmp_path):
    row = b"\0" + b"\0" * 30
    for kind in (b"zTXt", b"iCCP"):
        bomb = chunk(kind, b"a\0\0" + zlib.compress(b"\0" * 80_000_000, 9))
        data = png(10, 10, zlib.compress(row * 10), bomb)
        try:
            keep_picture(tmp_path, "a.png", data)
        except DocumentProblem as error:
            assert "broken" in str(error) or "breaks off" in str(error)


def test_pixels_that_go_on_after_the_last_row_are_not_decoded(tmp_path):
    packed = zlib.compress(b"\0" * 200_000_000, 9)
    assert keep_picture(tmp_path, "a.png", png(10, 10, packed)).width_px == 10


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "TIFF"])
@pytest.mark.parametrize("share", [0.3, 0.7, 0.97])
def test_files_that_break_off_are_not_kept(tmp_path, form, share):
    data = noisy(form)
    refused(tmp_path, "a", data[: int(len(data) * share)], "breaks off|broken|not a picture")


def test_a_polyglot_is_kept_as_the_picture_that_it_is(tmp_path):
    """JPEG and web page in one: kept under a picture's ending; only ever served as pixels drawn anew."""
    data = encoded() + b"<html><script>alert(1)</script></html>"
    facts = keep_picture(tmp_path, "a.html", data)
    assert facts.file == "a-html.jpg"
    out = io.BytesIO()
    open_picture(tmp_path, facts.file).save(out, "JPEG")
    assert b"script" not in out.getvalue()


def test_a_raw_file_is_no_picture(tmp_path):
    from PIL.TiffImagePlugin import ImageFileDirectory_v2

    tags = ImageFileDirectory_v2()
    tags[50706] = b"\x01\x04\x00\x00"
    tags.tagtype[50706] = 1
    refused(tmp_path, "a.dng", encoded("TIFF", tiffinfo=tags), "raw")


@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_orientation_of_phones_is_obeyed(tmp_path, orientation):
    """A picture stored in each of the eight ways looks the same: red at the upper left, blue at the lower right."""
    shown = Image.new("RGB", (80, 48), "white")
    shown.paste((255, 0, 0), (0, 0, 16, 16))
    shown.paste((0, 0, 255), (64, 32, 80, 48))
    ways = {1: (), 2: ("FLIP_LEFT_RIGHT",), 3: ("ROTATE_180",), 4: ("FLIP_TOP_BOTTOM",), 5: ("TRANSPOSE",), 6: ("ROTATE_90",),
            7: ("TRANSVERSE",), 8: ("ROTATE_270",)}  # source: Exif 2.32, tag Orientation, undone
    stored = shown
    for way in ways[orientation]:
        stored = stored.transpose(Image.Transpose[way])
    tags = Image.Exif()
    tags[274] = orientation
    out = io.BytesIO()
    stored.save(out, "JPEG", quality=95, exif=tags)
    facts = keep_picture(tmp_path, "a.jpg", out.getvalue())
    assert (facts.width_px, facts.height_px, facts.orientation) == (80, 48, orientation)
    seen = open_picture(tmp_path, facts.file)
    assert seen.size == (80, 48)
    red, blue = seen.getpixel((8, 8)), seen.getpixel((72, 40))
    assert red[0] > 200 and red[2] < 100 and blue[2] > 200 and blue[0] < 100


def test_the_focal_length_that_a_phone_notes(tmp_path):
    tags = Image.Exif()
    tags.get_ifd(34665)[41989] = 26
    assert keep_picture(tmp_path, "a.jpg", encoded(exif=tags)).film_mm == 26
    for strange in (0, 65535):
        tags.get_ifd(34665)[41989] = strange
        assert keep_picture(tmp_path, "b.jpg", encoded(exif=tags)).film_mm == 0


def test_too_many_bytes_are_refused_as_they_come(tmp_path, monkeypatch):
    monkeypatch.setattr(module, "MOST_BYTES", 1000)
    with pytest.raises(DocumentProblem, match="MB"), Incoming(tmp_path, "a.jpg") as coming:
        for _ in range(3):
            coming.add(b"\0" * 400)
    assert names(tmp_path) == []
    monkeypatch.setattr(pictures, "MOST_BYTES", 100)
    monkeypatch.setattr(module, "MOST_BYTES", 10_000)
    refused(tmp_path, "a.jpg", encoded(), "MB")


@pytest.mark.parametrize(("number", "says"), [(errno.ENOSPC, "disk is full"), (errno.EROFS, "cannot be written"), (errno.EIO, "refuses")])
@pytest.mark.parametrize("where", ["fsync", "link"])
def test_a_disk_that_refuses_is_told_and_nothing_is_left(tmp_path, monkeypatch, number, says, where):
    def refuse(*_):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(module.os, where, refuse)
    if where == "link":
        monkeypatch.setattr(module.os, "replace", refuse)
    refused(tmp_path, "a.jpg", encoded(), says)


def test_a_disk_without_second_names(tmp_path, monkeypatch):
    def refuse(*_):
        raise OSError(errno.EPERM, "no links here")

    monkeypatch.setattr(module.os, "link", refuse)
    one, two = encoded(), encoded(colour=(1, 2, 3))
    assert keep_picture(tmp_path, "a.jpg", one).file == "a.jpg"
    assert keep_picture(tmp_path, "a.jpg", two).file == "a 2.jpg"
    assert names(tmp_path) == ["a 2.jpg", "a.jpg"]
    assert (tmp_path / "pictures" / "a.jpg").read_bytes() == one


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="needs a folder that cannot be written")
def test_a_folder_that_cannot_be_written(tmp_path):
    home = tmp_path / "pictures"
    home.mkdir()
    home.chmod(0o500)
    try:
        with pytest.raises(DocumentProblem, match="cannot be written"):
            keep_picture(tmp_path, "a.jpg", encoded())
    finally:
        home.chmod(0o700)


def test_a_pictures_folder_that_leads_elsewhere_is_not_written_to(tmp_path):
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "plan").mkdir()
    (tmp_path / "plan" / "pictures").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(DocumentProblem, match="leads out"):
        keep_picture(tmp_path / "plan", "a.jpg", encoded())
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_what_a_crash_left_goes_after_an_hour(tmp_path):
    home = tmp_path / "pictures"
    home.mkdir()
    old, new = home / ".being-kept-old", home / ".being-kept-new"
    for path in (old, new):
        path.write_bytes(b"half")
    os.utime(old, (1, 1))
    keep_picture(tmp_path, "a.jpg", encoded())
    assert names(tmp_path) == [".being-kept-new", "a.jpg"]


def test_many_at_once_lose_nothing(tmp_path):
    all_bytes = [encoded(colour=(n, 0, 0), quality=100) for n in range(0, 200, 20)]
    kept = []
    threads = [threading.Thread(target=lambda data=data: kept.append(keep_picture(tmp_path, "a.jpg", data).file)) for data in all_bytes]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(set(kept)) == len(set(all_bytes)) == len(names(tmp_path))
    assert {(tmp_path / "pictures" / name).read_bytes() for name in kept} == set(all_bytes)
