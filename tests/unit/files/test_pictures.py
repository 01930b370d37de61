"""Pictures are checked before they are trusted."""

import struct
import zlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from rushlight.errors import DocumentProblem
from rushlight.files import pictures
from rushlight.files.pictures import PictureFacts, open_picture, picture_facts, picture_problems
from rushlight.model.plan import Plan, Reference, Subject
from rushlight.model.plan_bench import Done
from rushlight.model.plan_part import Part, Picture


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "pictures").mkdir()
    return tmp_path


def saved(folder, name, size=(40, 30), **more):
    Image.new("RGB", size, (200, 100, 50)).save(folder / "pictures" / name, **more)


def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png_header(width, height):
    """A PNG that says it is so large, without its data."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0")) + chunk(b"IEND", b"")


@pytest.mark.parametrize("name", ["a.png", "a.jpg", "a.webp", "a.tif", "a.bmp", "a.gif"])
def test_size(folder, name):
    saved(folder, name)
    facts = picture_facts(folder, name)
    assert (facts.width_px, facts.height_px, facts.orientation) == (40, 30, 1)


def test_a_picture_taken_upright_is_upright(folder):
    turned = Image.Exif()
    turned[274] = 6
    saved(folder, "a.jpg", exif=turned)
    assert picture_facts(folder, "a.jpg") == PictureFacts("a.jpg", "JPEG", 30, 40, 6)
    assert open_picture(folder, "a.jpg").size == (30, 40)


def test_open_picture_is_no_larger_than_asked(folder):
    saved(folder, "a.png", (400, 300))
    image = open_picture(folder, "a.png", longest_px=100)
    assert (image.size, image.mode) == ((100, 75), "RGB")


def broken(folder):
    home = folder / "pictures"
    (home / "words.png").write_text("no picture")
    (home / "empty.png").write_bytes(b"")
    (home / "wide.png").write_bytes(png_header(9000, 9000))
    (home / "bomb.png").write_bytes(png_header(60_000, 60_000))
    (home / "long.png").write_bytes(png_header(40_000, 10))
    (home / "folder.png").mkdir()
    (folder / "secret.png").write_bytes(b"")
    (home / "link.png").symlink_to(folder / "secret.png")


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("none.png", "no such file"),
        ("words.png", "not a picture"),
        ("empty.png", "not a picture"),
        ("wide.png", "enormous"),
        ("bomb.png", "enormous"),
        ("long.png", "enormous"),
        ("folder.png", "no file"),
        ("link.png", "outside"),
        ("../secret.png", "outside"),
        ("", "outside"),
    ],
)
def test_what_is_no_picture(folder, name, says):
    broken(folder)
    with pytest.raises(DocumentProblem, match=says):
        picture_facts(folder, name)


def test_a_file_that_is_too_large_is_not_even_opened(folder, monkeypatch):
    saved(folder, "a.png")
    monkeypatch.setattr(pictures, "MOST_BYTES", 10)
    with pytest.raises(DocumentProblem, match="MB"):
        picture_facts(folder, "a.png")


@pytest.mark.parametrize("keep", [0.5, 0.9])
def test_a_picture_that_breaks_off(folder, keep):
    path = folder / "pictures" / "a.jpg"
    Image.effect_noise((200, 200), 90).save(path)
    path.write_bytes(path.read_bytes()[: int(path.stat().st_size * keep)])
    assert picture_facts(folder, "a.jpg").width_px == 200
    with pytest.raises(DocumentProblem, match="breaks off"):
        open_picture(folder, "a.jpg")


def test_all_pictures_of_a_plan(folder):
    saved(folder, "good.png")
    broken(folder)
    outline = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0))
    plan = Plan(
        subject=Subject(title="t", scale=72),
        states=(),
        parts=(
            Part(name="p", outline_mm=outline, picture=Picture(file="words.png")),
            Part(name="q", outline_mm=outline),
        ),
        references=(Reference(name="r", file="none.png"), Reference(name="s", file="words.png"), Reference(name="t")),
        as_built=(Done(step="glue", photo="bomb.png"), Done(step="paint", photo="good.png")),
    )
    assert [str(problem).split(";")[0] for problem in picture_problems(plan, folder)] == [
        "pictures/words.png, part 'p': not a picture",
        "pictures/none.png, reference 'r': no such file",
        "pictures/bomb.png, as built 'glue': an enormous picture",
    ]


@settings(max_examples=60, deadline=None)
@given(
    st.binary(max_size=200),
    st.sampled_from([b"", b"\x89PNG\r\n\x1a\n", b"GIF89a", b"\xff\xd8\xff", b"BM", b"II*\0", b"RIFF0000WEBP"]),
)
def test_any_bytes_are_a_picture_or_a_problem(tmp_path_factory, data, start):
    folder = tmp_path_factory.mktemp("any")
    (folder / "pictures").mkdir()
    (folder / "pictures" / "a.png").write_bytes(start + data)
    for reader in (picture_facts, open_picture):
        try:
            reader(folder, "a.png")
        except DocumentProblem as error:
            assert len(error.problems) == 1
