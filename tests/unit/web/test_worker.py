"""The process that works designs out, and answers that never pass for fresh when they are not."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from large_plan import large_plan
from own_loop import run_to_end
from rushlight.model.change import Change
from rushlight.web.desk import Desk
from rushlight.web.worker import COPIED, Job, Worker
from rushlight.working_plan import make_changes


@pytest.fixture(scope="module")
def worker():
    made = Worker(spare=False)
    yield made
    made.close()


def test_answer_sheets_and_problems(worker, folder):
    stages = []
    done = worker.run(Job("answer", str(folder)), stages.append)
    assert done.kind == "done", done.data
    answer = json.loads(done.data)
    assert {"loom", "findings"} <= set(stages)
    assert set(answer["glow"]) == {"moving", "moored"}
    bow = answer["glow"]["moored"]["bow"]
    assert answer["picture"]["half_cd_m2"] > 0 and len(answer["picture"]["spread"]) == 34
    assert len(answer["picture"]["hues"]) > 1
    assert bow["told"].startswith("about ") and "likely" in bow["told"] and bow["told"].endswith("mcd at the outside")
    assert answer["rhythms"]["Fl(2) R 10s"]["period_s"] == 10
    assert all(finding["grade"] for finding in answer["findings"])

    done = worker.run(Job("fault", str(folder)), stages.append)
    assert json.loads(done.data)["verdict"]["kind"] == "nothing yet"
    done = worker.run(Job("sheets", str(folder), "power"), stages.append)
    assert done.kind == "done", done.data
    blocks = [block for sheet in json.loads(done.data)["sheets"] for block in sheet["blocks"]]
    assert {"table", "drawing"} <= {block["block"] for block in blocks}
    assert json.loads(done.data)["revision"] == answer["revision"]

    done = worker.run(Job("own", str(folder)), stages.append)
    assert done.kind == "done", done.data
    assert json.loads(done.data)["revision"] == answer["revision"]

    (folder / "plan.yaml").write_text("rushlight: 1\n", encoding="utf-8")
    done = worker.run(Job("answer", str(folder)), stages.append)
    assert done.kind == "problem"
    assert json.loads(done.data)[0]["says"]


def test_a_newer_job_overtakes_an_older_one(worker, folder):
    (folder / "plan.yaml").write_text(large_plan(200), encoding="utf-8")  # some seconds of work
    told = []

    def tell(stage: str) -> None:
        told.append(stage)
        if len(told) == 1:
            worker.drop()  # at once, while most of the stages are still to come

    assert worker.run(Job("answer", str(folder)), tell).kind == "overtaken"
    assert worker.run(Job("answer", str(folder)), lambda stage: None).kind == "done"


def test_answers_follow_edits_and_name_their_revision(tmp_path, folder):
    async def worked():
        desk = Desk(tmp_path / "plans", spare=False)
        bench = await desk.open(folder)
        first = bench.job
        change = Change("set", "lamps", "stern", {"at_mm": [70, 20]})
        await desk.change(bench, lambda working: make_changes(working, [change], seen=working.revision, what="moved"))
        assert bench.answer is None or bench.answered != bench.current.revision
        await bench.job
        assert first is not bench.job
        assert bench.answered == bench.current.revision == json.loads(bench.answer)["revision"]
        await desk.stop()

    run_to_end(worked())


def test_a_job_that_nobody_wants_any_more_is_not_begun(worker, folder):
    assert worker.run(Job("answer", str(folder)), print, wanted=lambda: False).kind == "overtaken"


@pytest.mark.skipif(not COPIED, reason="processes are begun anew here")
def test_a_process_is_copied_from_one_that_has_loaded_all():
    made = Worker()
    try:
        first = made._ready()  # kept: with its line cut a process ends by itself, and there is no parent to be read
        made._child = None
        second = made._ready()
        stats = [Path(f"/proc/{one.process.pid}/stat").read_text() for one in (first, second)]
        parents = {stat.rpartition(")")[2].split()[1] for stat in stats}
        assert len(parents) == 1 and str(os.getpid()) not in parents
        made._keep_spare()
        assert made._spare is None  # a copy is at hand at once
        first.end()
    finally:
        made.close()


KILLED = """
import sys
from rushlight.web.worker import Job, Worker
worker = Worker()
worker.run(Job("answer", sys.argv[1]), lambda stage: print(worker._child.process.pid, flush=True))
"""


@pytest.mark.skipif(not COPIED, reason="asks the Linux kernel")
def test_a_process_ends_with_a_server_that_was_killed_in_the_midst_of_a_stage(tmp_path):
    os.mkfifo(tmp_path / "plan.yaml")  # reading the plan never comes to an end
    with subprocess.Popen([sys.executable, "-c", KILLED, str(tmp_path)], stdout=subprocess.PIPE, text=True) as server:
        pid = int(server.stdout.readline())
        server.kill()
    end = time.monotonic() + 30
    while _runs(pid) and time.monotonic() < end:
        time.sleep(0.05)
    assert not _runs(pid)


def _runs(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except FileNotFoundError:
        return False
