"""What the first bytes of a file say it is, where that is no picture that can be laid on a part."""

from __future__ import annotations

_HEIF = (b"heic", b"heix", b"hevc", b"hevx", b"heim", b"heis", b"hevm", b"hevs", b"mif1", b"msf1", b"heif")
_AS_JPEG = "a JPEG or PNG picture"

_HEIC_CURE = (
    "a JPEG: choose 'most compatible' or JPEG when you share it from the phone (or in its camera's settings, for "
    "later photographs), or open it on the computer and save it as JPEG"
)


def foreign_kind(head: bytes) -> tuple[str, str] | None:
    """What a file is, by its first bytes, and what to do instead; None where it may be a picture.

    Parameters
    ----------
    head : bytes
        At least the first 1024 bytes, or the whole of a shorter file.
    Returns
    -------
    tuple of (found, expected) or None
        In the words of a problem.
    Source
    ------
    ISO/IEC 23008-12 (HEIF) and ISO/IEC 14496-12: box 'ftyp' with its brands; ISO 32000 (%PDF); SVG 1.1; PKWARE
    APPNOTE (PK). Written down from memory.
    """
    text = head[:1024].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if head[4:8] == b"ftyp":
        return _ftyp(head)
    if not head:
        return "an empty file", _AS_JPEG
    if text.startswith(b"%pdf"):
        return "a PDF", "a picture of its page: save or print it as PNG, 300 pixels to the inch"
    if text.startswith((b"<svg", b"<?xml", b"<!doctype svg")) and (b"<svg" in text or b"doctype svg" in text):
        return "a drawing made of lines (SVG)", "a picture of it: export it as PNG, 300 pixels to the inch"
    if text.startswith((b"<!doctype html", b"<html")):
        return "a web page", _AS_JPEG
    if head.startswith(b"PK\x03\x04"):
        return "an archive or an office document", f"{_AS_JPEG}, taken out of it"
    if head.startswith((b"\x00\x00\x00\x0cJXL ", b"\xff\x0a", b"\x00\x00\x00\x0cjP  ")):
        return "a picture in a form that cannot be read here", _AS_JPEG
    return None


def _ftyp(head: bytes) -> tuple[str, str]:
    """A file of ISO base media: its major brand, then those that it is compatible with."""
    length = min(int.from_bytes(head[:4], "big"), len(head))
    brands = {head[8:12], *(head[at : at + 4] for at in range(16, max(16, length), 4))}
    if brands & {b"avif", b"avis"}:
        return "a photograph in the form AVIF", _AS_JPEG
    if brands & set(_HEIF):
        return "a photograph in the form HEIC", _HEIC_CURE
    return "a film", "a photograph: JPEG or PNG"
