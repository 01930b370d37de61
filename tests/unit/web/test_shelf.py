"""Scripts, styles and fonts as they go over the wire."""

from __future__ import annotations

import socket

import pytest

from rushlight.web.serve import _listening
from rushlight.web.shelf import FOLDERS


def test_every_file_comes_whole_packed_or_not(client):
    for way, folder in FOLDERS.items():
        for path in folder.rglob("*"):
            if path.is_file():
                address = way + path.relative_to(folder).as_posix()
                for coding in ("gzip", "identity"):
                    answer = client.get(address, headers={"accept-encoding": coding})
                    assert (answer.status_code, answer.content) == (200, path.read_bytes()), address
                assert answer.headers["content-type"].split(";")[0] in (
                    "text/javascript", "text/css", "text/html", "text/plain", "text/markdown", "image/svg+xml", "font/ttf",
                    "application/octet-stream",
                ), address


def test_scripts_go_packed_and_are_not_sent_again(client):
    first = client.get("/static/js/desk.js", headers={"accept-encoding": "gzip"})
    assert first.headers["content-encoding"] == "gzip"
    again = client.get("/static/js/desk.js", headers={"if-none-match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    head = client.head("/static/js/desk.js")
    assert (head.status_code, head.content) == (200, b"")


@pytest.mark.parametrize("path", ["/static/", "/static/js", "/static/js/none.js", "/fonts/../app.css", "/static//js/desk.js"])
def test_what_is_not_there_is_said(client, path):
    answer = client.get(path)
    assert answer.status_code == 404
    assert set(answer.json()) == {"error"}
    assert client.post("/static/js/desk.js").status_code == 405


def test_answers_do_not_wait_for_the_other_side_to_acknowledge():
    """Asyncio switches Nagle's delay off only where the protocol is named (asyncio.base_events._set_nodelay)."""
    listening = _listening(0)
    try:
        assert listening.proto == socket.IPPROTO_TCP
    finally:
        listening.close()
