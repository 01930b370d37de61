"""The port that the app listens on."""

import asyncio
import gc
import os
import re
import signal
import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

from own_loop import in_own_thread
from rushlight.errors import MissingTool
from rushlight.web.serve import HOST, _collect_later, _listening, serve


def test_a_caller_may_come_at_once_and_only_from_this_computer():
    with _listening(0) as listening:
        assert listening.getsockname()[0] == HOST == "127.0.0.1"
        socket.create_connection(listening.getsockname(), timeout=5).close()


def test_a_taken_port_is_said_with_its_cure():
    with _listening(0) as first, pytest.raises(MissingTool, match="--port"):
        _listening(first.getsockname()[1])


def listening(pid: int) -> set[tuple[str, int]]:
    """Addresses that a process and its children listen on, as the Linux kernel tells them."""
    ours = {pid, *(int(child) for task in Path(f"/proc/{pid}/task").iterdir() for child in (task / "children").read_text().split())}
    sockets = {os.readlink(file) for one in ours for file in Path(f"/proc/{one}/fd").iterdir() if file.is_symlink()}
    found = set()
    for table in ("tcp", "tcp6", "udp", "udp6"):
        for line in Path(f"/proc/net/{table}").read_text().splitlines()[1:]:
            cells = line.split()
            if f"socket:[{cells[9]}]" in sockets and (table.startswith("udp") or cells[3] == "0A"):
                host, port = cells[1].split(":")
                found.add((socket.inet_ntoa(bytes.fromhex(host)[::-1]) if len(host) == 8 else host, int(port, 16)))
    return found


@pytest.mark.skipif(sys.platform != "linux", reason="asks the Linux kernel")
def test_without_a_choice_the_app_listens_on_this_computer_alone(tmp_path):
    command = [sys.executable, "-m", "rushlight.cli", "open", "--no-browser", "--plans", str(tmp_path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env={**os.environ, "XDG_CONFIG_HOME": str(tmp_path)}) as app:
        try:
            said = app.stdout.readline()
            port = int(re.search(r"http://127\.0\.0\.1:(\d+)/", said).group(1))
            urllib.request.urlopen(f"http://127.0.0.1:{port}/api/start", timeout=30).close()
            assert listening(app.pid) == {("127.0.0.1", port)}
        finally:
            app.terminate()


def test_it_ends_by_itself_after_the_last_page_was_closed(tmp_path, capsys):
    assert in_own_thread(lambda: serve(None, browser=False, plans_home=tmp_path, leave_s=0.2)) == 0
    assert "http://127.0.0.1:" in capsys.readouterr().out


def test_a_page_that_comes_while_the_server_ends_is_not_kept_waiting(client):
    client.portal.call(client.desk.bench, client.plan).ended = True
    assert client.get(f"/api/plans/{client.plan}/events").text.count("data:") == 1


@pytest.mark.skipif(sys.platform == "win32", reason="a signal that Windows does not know")
def test_stopped_with_a_page_open_it_ends_without_a_word_of_trouble(tmp_path, folder):
    command = [sys.executable, "-m", "rushlight.cli", "open", "--no-browser", "--plans", str(tmp_path / "plans"), str(folder)]
    own = {**os.environ, "XDG_CONFIG_HOME": str(tmp_path)}
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=own) as app:
        host, key = re.search(r"(http://[\d.:]+)/plan/(\w+)", app.stdout.readline()).groups()
        with urllib.request.urlopen(f"{host}/api/plans/{key}/events", timeout=30) as page:
            assert b"hello" in page.readline()
            app.send_signal(signal.SIGINT)
            assert b"bye" in page.read()
        assert app.communicate(timeout=30) == ("", "") and app.returncode == 0


def test_unused_objects_are_looked_for_again_once_a_page_has_its_plan(tmp_path):
    async def shown() -> bool:
        has_plan = asyncio.Event()
        later = asyncio.create_task(_collect_later(has_plan))
        await asyncio.sleep(0)
        rested = not gc.isenabled()
        has_plan.set()
        await later
        return rested and gc.isenabled()

    gc.disable()
    try:
        assert in_own_thread(lambda: asyncio.run(shown()))
        assert in_own_thread(lambda: serve(None, browser=False, plans_home=tmp_path, leave_s=0.2)) == 0
        assert gc.isenabled()
    finally:
        gc.enable()


def test_it_stays_while_a_page_is_open(client):
    bench = client.portal.call(client.desk.bench, client.plan)
    bench.listeners.add(None)
    client.desk._used -= 1000
    assert client.desk.unused_s() < 1
    bench.listeners.clear()
    client.desk._used -= 1000
    assert client.desk.unused_s() > 999
    client.get("/api/start")
    assert client.desk.unused_s() < 1
