"""The plans that the server has open: each with its revision, its answer, and those who look at it."""

from __future__ import annotations

import asyncio
import contextlib
import hashlib
import json
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from rushlight.errors import DocumentProblem, UnknownName
from rushlight.files.recent import Recent, recent_plans, remember_plan
from rushlight.web.plain import problems_json
from rushlight.web.state import Looks, shown_json
from rushlight.web.worker import Done, Job, Worker
from rushlight.working_plan import WorkingPlan, first_look, look_at_pictures, on_disk, read_again, start_work

LOOK_EVERY_S = 0.5
"""How often the disk is looked at for edits from outside."""

Event = dict[str, Any]


@dataclass
class Bench:
    """One open plan. Only `current` and `answer` change; each answer says which revision it belongs to."""

    key: str
    folder: Path
    current: WorkingPlan
    worker: Worker
    answer: str | None = None
    answered: str = ""
    failed: str = ""
    stage: str = ""
    problems: list[dict[str, Any]] = field(default_factory=list)
    listeners: set[asyncio.Queue[Event]] = field(default_factory=set)
    lock: asyncio.Lock = field(default_factory=asyncio.Lock)
    asking: asyncio.Lock = field(default_factory=asyncio.Lock)
    job: asyncio.Task[None] | None = None
    warm: asyncio.Task[Any] | None = None
    """The first look, taken before the page asks for it."""
    book: dict[str, Any] = field(default_factory=dict)
    known: dict[str, Any] = field(default_factory=dict)
    suspected: dict[str, Any] = field(default_factory=dict)
    """The last answer to where the fault is, and the revision that it is of."""
    taken: dict[str, None] = field(default_factory=dict)
    looks: Looks = field(default_factory=lambda: Looks({}))
    shown: asyncio.Event = field(default_factory=asyncio.Event)
    """Set when a page has been given the plan."""
    ended: bool = False
    """Whether the server is about to end: who comes now is sent away."""

    def tell(self, event: str, **more: Any) -> None:
        """Send an event to everyone who looks at this plan."""
        for queue in self.listeners:
            queue.put_nowait({"event": event, **more})

    def state(self, holds: str = "") -> dict[str, Any]:
        """What the screens show at once: plan, lamps in their places, what can be taken back.

        Parameters
        ----------
        holds : str
            Revision that the page holds whole: if it is still known, only what changed since is told.
        Returns
        -------
        dict
            `plan` and `look`, or `since`, `plan_now` and `look_now` as `rushlight.web.state` has them.
        """
        working = self.current
        since = self.looks.held.get(holds)
        look = self.looks.held.get(working.revision)
        if look is None:
            look = first_look(working, self.looks.newest)
            self.looks.add(working.revision, look)
        return {
            "id": self.key, "folder": str(self.folder), "revision": working.revision,
            **shown_json(look, since), **({"since": holds} if since else {}),
            "steps": {"undo": working.steps.undo, "redo": working.steps.redo},
            "pictures": problems_json(working.read.pictures), "outside": self.problems,
        }


class Desk:
    """Every plan that this server may touch; nothing else on the disk is within reach."""

    def __init__(
        self, plans_home: Path, *, design: bool = True, spare: bool = True, page_first_s: float = 0.0
    ) -> None:
        self.plans_home = plans_home
        self.design = design
        self.spare = spare
        self.page_first_s = page_first_s
        """So long the first work on a plan waits for its page, which needs the processor more."""
        self._benches: dict[str, Bench] = {}
        self._watch: asyncio.Task[None] | None = None
        self._used = time.monotonic()

    async def start(self) -> None:
        """Begin to look for edits from outside."""
        self._watch = asyncio.create_task(self._watching())

    async def stop(self) -> None:
        """End all work."""
        if self._watch:
            self._watch.cancel()
        for bench in self._benches.values():
            bench.ended = True
            bench.tell("bye")
            if bench.job:
                bench.job.cancel()
            bench.worker.close()

    def used(self) -> None:
        """Somebody asked for something."""
        self._used = time.monotonic()

    def unused_s(self) -> float:
        """How long nobody has asked for anything and no plan's page has been open [s]."""
        if any(bench.listeners or (bench.job and not bench.job.done()) for bench in self._benches.values()):
            self.used()
        return time.monotonic() - self._used

    def recent(self) -> tuple[Recent, ...]:
        """Plans opened lately that are still there."""
        return recent_plans()

    async def open(self, folder: Path) -> Bench:
        """Open a plan, or find it open.

        Raises
        ------
        DocumentProblem
            With every problem of the document.
        """
        home = folder.resolve()
        key = key_of(home)
        if key not in self._benches:
            working = await asyncio.to_thread(start_work, home)
            bench = self._benches.setdefault(key, Bench(key, home, working, Worker(spare=self.spare)))
            self.work_out(bench)
            bench.warm = asyncio.create_task(asyncio.to_thread(bench.state))
            await asyncio.to_thread(remember_plan, home, working.plan.subject.title)
        return self._benches[key]

    async def bench(self, key: str) -> Bench:
        """The open plan of that key; a recent one is opened.

        Raises
        ------
        UnknownName
            If no plan that was opened has that key.
        """
        if key not in self._benches:
            for plan in self.recent():
                if key_of(plan.folder.resolve()) == key:
                    return await self.open(plan.folder)
            raise UnknownName("plan", key, [])
        return self._benches[key]

    async def change(self, bench: Bench, act: Callable[[WorkingPlan], WorkingPlan]) -> None:
        """One change at a time; what follows from it is worked out anew."""
        async with bench.lock:
            working = await asyncio.to_thread(act, bench.current)
            self._take(bench, working)

    def _take(self, bench: Bench, working: WorkingPlan) -> None:
        bench.problems = []
        if working.revision == bench.current.revision:
            return
        bench.current = working
        bench.tell("plan", revision=working.revision)
        self.work_out(bench)

    def work_out(self, bench: Bench) -> None:
        """Start the slow stages on the plan as it stands, in place of those on an older one."""
        if not self.design or (bench.answered == bench.current.revision and bench.answer):
            return
        if bench.job and not bench.job.done():
            bench.job.cancel()
            bench.worker.drop()
        bench.stage, bench.failed = "starting", ""
        bench.job = asyncio.create_task(self._answer(bench, bench.current.revision))

    async def _answer(self, bench: Bench, revision: str) -> None:
        if self.page_first_s and not bench.answer:
            with contextlib.suppress(TimeoutError):
                await asyncio.wait_for(bench.shown.wait(), self.page_first_s)
        done = await self.ask(bench, Job("answer", str(bench.folder)), revision)
        if revision != bench.current.revision or done.kind == "overtaken":
            return
        bench.stage = ""
        if done.kind == "done" and json_revision(done.data) == revision:
            bench.answer, bench.answered = done.data, revision
            bench.tell("answer", revision=revision)
        elif done.kind != "done":
            bench.failed = done.data
            bench.tell("failed", revision=revision, says=done.data)

    async def ask(self, bench: Bench, job: Job, revision: str) -> Done:
        """Have a job done by the plan's process, its stages told to those who look."""
        loop = asyncio.get_running_loop()

        def tell(stage: str) -> None:
            loop.call_soon_threadsafe(self._told, bench, job.kind, stage, revision)

        def wanted() -> bool:
            return job.kind != "answer" or revision == bench.current.revision

        return await asyncio.to_thread(bench.worker.run, job, tell, wanted=wanted)

    def _told(self, bench: Bench, kind: str, stage: str, revision: str) -> None:
        if revision == bench.current.revision:
            if kind == "answer":
                bench.stage = stage
            bench.tell("stage", kind=kind, stage=stage, revision=revision)

    async def _watching(self) -> None:
        while True:
            await asyncio.sleep(LOOK_EVERY_S)
            for bench in tuple(self._benches.values()):
                if bench.listeners and not bench.lock.locked():
                    await self.look_outside(bench)

    async def look_outside(self, bench: Bench) -> None:
        """Take in what was changed on the disk; a document with problems is told, the last good one stays."""
        async with bench.lock:
            revision = await asyncio.to_thread(on_disk, bench.folder)
            if revision == bench.current.revision:
                if bench.problems:
                    bench.problems = []
                    bench.tell("plan", revision=revision)
                await self._look_at_pictures(bench)
                return
            try:
                self._take(bench, await asyncio.to_thread(read_again, bench.current))
            except DocumentProblem as error:
                says = problems_json(error.problems)
                if says != bench.problems:
                    bench.problems = says
                    bench.tell("outside", problems=says)

    async def _look_at_pictures(self, bench: Bench) -> None:
        """A picture that came or went is told; the plan stays as it is."""
        working = await asyncio.to_thread(look_at_pictures, bench.current)
        if working is not bench.current:
            bench.current = working
            bench.tell("pictures")


def key_of(folder: Path) -> str:
    """The plan's key in addresses."""
    return hashlib.sha256(str(folder).encode()).hexdigest()[:12]


def json_revision(data: str) -> str:
    """The revision that an answer says it belongs to."""
    return str(json.loads(data)["revision"])
