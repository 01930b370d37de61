"""Who may speak to the app, and what its pages may load."""

import pytest

from rushlight.web.app import HEADERS


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "", "localhost.evil.example:8000", "10.0.0.5:8000"])
def test_a_foreign_host_is_refused(client, host):
    answer = client.get("/api/start", headers={"host": host})
    assert answer.status_code == 403
    assert answer.json()["error"]["kind"] == "foreign"


@pytest.mark.parametrize("host", ["127.0.0.1:8000", "localhost:8000", "localhost", "[::1]:8000"])
def test_this_computer_is_let_in(client, host):
    assert client.get("/api/start", headers={"host": host}).status_code == 200


@pytest.mark.parametrize("headers", [
    {"origin": "http://evil.example"}, {"origin": "null"}, {"origin": "http://127.0.0.1:9999"}, {"sec-fetch-site": "cross-site"},
])
def test_a_foreign_page_cannot_change_a_plan(client, folder, headers):
    before = (folder / "plan.yaml").read_bytes()
    answer = client.post(f"/api/plans/{client.plan}/undo", headers=headers)
    assert answer.status_code == 403
    assert (folder / "plan.yaml").read_bytes() == before


def test_the_own_page_can(client):
    headers = {"origin": "http://127.0.0.1:8000", "sec-fetch-site": "same-origin"}
    assert client.post(f"/api/plans/{client.plan}/undo", headers=headers).status_code == 200


@pytest.mark.parametrize("path", ["/", "/plan/0123", "/static/app.css", "/fonts/AtkinsonHyperlegibleNext-Regular.ttf", "/api/start", "/nothing"])
def test_every_answer_says_what_may_be_loaded(client, path):
    answer = client.get(path)
    for key, value in HEADERS.items():
        assert answer.headers[key] == value
    assert "unsafe" not in answer.headers["Content-Security-Policy"]


def test_the_page_names_nothing_off_this_machine(client):
    from rushlight.web.app import HERE

    for path in (HERE / "static").rglob("*"):
        if path.suffix in (".js", ".css", ".html") and "vendor" not in path.parts:
            text = path.read_text(encoding="utf-8").replace("http://www.w3.org/2000/svg", "")
            assert "http://" not in text, path.name
            assert "https://" not in text, path.name
    assert client.get("/").headers["content-type"].startswith("text/html")


@pytest.mark.parametrize("path", ["/static/../app.py", "/static/%2e%2e/app.py", "/fonts/../../files/history.py"])
def test_no_way_out_of_the_served_folders(client, path):
    assert client.get(path).status_code == 404


def test_every_module_is_asked_for_at_once(client):
    """The page names all its modules, so that none waits for another to be read."""
    from rushlight.web.app import HERE

    page = (HERE / "static" / "index.html").read_text(encoding="utf-8")
    by_night = ("night.js", "paint-night.js")  # fetched when a room first gets dark
    for path in (HERE / "static" / "js").glob("*.js"):
        assert path.name == "main.js" or path.name in by_night or path.name.startswith("start") \
            or f"/static/js/{path.name}" in page, path.name
