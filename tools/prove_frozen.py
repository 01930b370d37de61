"""Prove the self-contained folder on Linux: network off, no other Python in sight, a demo opened, its book written.

    python tools/prove_frozen.py FOLDER      prints what it measured as JSON; ends with 1 if something fails
"""

from __future__ import annotations

import http.client
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

INSIDE = "RUSHLIGHT_PROVE_INSIDE"
HIDDEN = (*map(str, Path("/usr/lib").glob("python3*")), "/usr/local/lib", sys.prefix, sys.base_prefix)
"""Where another Python and its packages lie; an empty folder is laid over each."""


def main() -> int:
    """Prove the folder that is named."""
    folder = Path(sys.argv[1]).resolve()
    if os.environ.get(INSIDE):
        print(json.dumps(prove(folder)))
        return 0
    alone = ["unshare", *([] if os.geteuid() == 0 else ["--map-root-user"]), "--net", "--mount"]
    if not shutil.which("unshare") or subprocess.call([*alone, "true"]) != 0:
        print("This system lets no program be shut off from the network (unshare); nothing was proved.")
        return 1
    return subprocess.call([*alone, sys.executable, __file__, str(folder)], env={**os.environ, INSIDE: "yes"})


def prove(folder: Path) -> dict[str, Any]:
    """Start, open, answer, book; times [s]."""
    subprocess.run(["ip", "link", "set", "lo", "up"], check=True)
    with tempfile.TemporaryDirectory() as home:
        began = time.perf_counter()
        process = started(folder, Path(home))
        try:
            measured = used(process, folder, began)
        finally:
            process.kill()
            process.wait()
    return measured


def started(folder: Path, home: Path) -> subprocess.Popen[str]:
    """The program, with empty folders over every other Python."""
    empty = home / "empty"
    empty.mkdir()
    over = " && ".join(f"mount --bind '{empty}' '{place}'" for place in dict.fromkeys(HIDDEN) if Path(place).is_dir()
                     and place not in ("/", "/usr"))
    words = f"{over} && exec env -i HOME='{home}' PATH=/nowhere '{folder / 'rushlight'}' open --no-browser"
    return subprocess.Popen(["unshare", "--mount", "sh", "-c", words], stdout=subprocess.PIPE, text=True, cwd=home)


def used(process: subprocess.Popen[str], folder: Path, began: float) -> dict[str, Any]:
    """What a user does, and how long each step takes."""
    assert process.stdout
    said = process.stdout.readline()
    found = re.search(r"http://127\.0\.0\.1:(\d+)", said)
    assert found, f"it did not start: {said}"
    times = {"listens_s": time.perf_counter() - began}
    line = http.client.HTTPConnection("127.0.0.1", int(found.group(1)), timeout=300)
    for path in ("/", "/static/app.css", "/static/js/main.js", "/fonts/AtkinsonHyperlegibleNext-Regular.ttf"):
        assert asked(line, "GET", path)[0] == 200, path
    times["page_s"] = time.perf_counter() - began
    opened = json.loads(asked(line, "POST", "/api/demos", {"name": "lantern"})[1])
    plan = f"/api/plans/{opened['id']}"
    while (answer := asked(line, "GET", f"{plan}/answer"))[0] == 202:
        assert not json.loads(answer[1])["failed"], answer[1]
        time.sleep(0.05)
    times["answer_s"] = time.perf_counter() - began
    status, book = asked(line, "POST", f"{plan}/book", {"paper": "a4"})
    assert status == 200, book
    assert asked(line, "GET", f"{plan}/book/a4.pdf")[1].startswith(b"%PDF")
    times["book_s"] = time.perf_counter() - began
    strangers = loaded_from_elsewhere(process.pid, folder)
    assert not strangers, f"loaded from outside the folder: {strangers}"
    size = sum(path.stat().st_size for path in folder.rglob("*") if path.is_file() and not path.is_symlink())
    return {"folder_mb": round(size / 1e6), **{name: round(value, 2) for name, value in times.items()}}


def asked(line: http.client.HTTPConnection, method: str, path: str, body: Any = None) -> tuple[int, bytes]:
    """One request."""
    data = None if body is None else json.dumps(body)
    line.request(method, path, data, {} if body is None else {"Content-Type": "application/json"})
    answer = line.getresponse()
    return answer.status, answer.read()


def loaded_from_elsewhere(pid: int, folder: Path) -> set[str]:
    """Python libraries that the program or its processes hold from outside the folder."""
    known = [entry for entry in Path("/proc").iterdir() if entry.name.isdigit()]
    family = {pid}
    for _ in range(3):
        family |= {int(entry.name) for entry in known if parent_of(entry) in family}
    assert len(family) > 1, "the process that works designs out is not there"
    maps = {word for one in family for word in Path(f"/proc/{one}/maps").read_text().split() if word.startswith("/")}
    return {path for path in maps if re.search("python|site-packages", path) and not path.startswith(str(folder))}


def parent_of(entry: Path) -> int | None:
    """A process's parent."""
    try:
        return int((entry / "stat").read_text().rsplit(")", 1)[1].split()[1])
    except (OSError, IndexError, ValueError):
        return None


if __name__ == "__main__":
    sys.exit(main())
