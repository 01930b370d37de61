"""A process that works out designs beside the server; a newer job ends an older one that is no longer wanted."""

from __future__ import annotations

import json
import multiprocessing
import os
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from multiprocessing.connection import Connection
from multiprocessing.context import ForkServerContext, SpawnContext
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rushlight.errors import DocumentProblem, RushlightError
from rushlight.web.plain import plain, problems_json

if TYPE_CHECKING:
    from rushlight.open_plan import OpenPlan

Tell = Callable[[str], None]

OVERTAKEN = "A newer edit came before this was done."

COPIED = sys.platform == "linux"
"""Whether processes are copied from a warm one; elsewhere what is loaded before a copy may not bear it."""

PATIENCE_S = 1.0
"""How long an overtaken job may go on to the end of its stage before its process is ended."""

LEAVES = {
    "subject": ("subject", "shopping"), "light": ("light", "filming", "dark", "standing", "seen_from"),
    "loom": ("bundles", "cut_list"), "power": ("power", "circuit", "controller"), "order": ("order",),
    "bench": ("gates",), "lamps": ("lamp_list",),
}
"""Leaves of the app and the kinds of sheets that they show."""

ALL = tuple(dict.fromkeys(kind for kinds in LEAVES.values() for kind in kinds))


@dataclass(frozen=True, slots=True)
class Job:
    """What to do of the plan in a folder.

    'answer', 'sheets', 'stood', 'own', 'held', 'supplies', 'tried', 'bench', 'fault', 'share' or 'book'; `word` is the
    leaf, the paper, 'pictures', a state and from where it is seen, or a finding's kind and item, as JSON.
    """

    kind: str
    folder: str
    word: str = ""


@dataclass(frozen=True, slots=True)
class Done:
    """How a job ended. `kind` is done, problem, failed or overtaken; `data` JSON, or a sentence."""

    kind: str
    data: str


class Worker:
    """One process at a time, and a warm one in waiting if a spare is wanted and copies are not at hand at once."""

    def __init__(self, *, spare: bool = True) -> None:
        self._wants_spare = spare and not COPIED
        self._job = 0
        self._busy = False
        self._kind = ""
        self._lock = threading.Lock()
        self._turn = threading.Lock()
        self._spare: _Child | None = None
        self._child: _Child | None = None

    def run(self, job: Job, tell: Tell, *, wanted: Callable[[], bool] = lambda: True) -> Done:
        """Do a job after the one at hand, if it is still wanted then; blocks, so call it in a thread."""
        with self._turn:
            if not wanted():
                return Done("overtaken", OVERTAKEN)
            child = self._ready()
            self._job, self._busy, self._kind = self._job + 1, True, job.kind
            try:
                child.connection.send((job.kind, job.folder, job.word))
                while True:
                    word, data = child.connection.recv()
                    if word != "stage":
                        return Done(word, data)
                    tell(data)
            except (EOFError, OSError):
                if child.dropped:
                    return Done("overtaken", OVERTAKEN)
                child.end()
                return Done("failed", "The process that works it out ended by itself; the next edit starts a new one.")
            finally:
                self._busy = False
                self._keep_spare()

    def drop(self, kind: str = "") -> None:
        """Stop the job at hand (of that kind): at its next stage, so that its process keeps what it knows; by force if
        late.
        """
        with self._lock:
            child, job = self._child, self._job
        if child is None or not self._busy or kind not in ("", self._kind):
            return
        try:
            child.connection.send(("stop", "", ""))
        except OSError:
            return
        hurry = threading.Timer(PATIENCE_S, self._force, (child, job))
        hurry.daemon = True
        hurry.start()

    def _force(self, child: _Child, job: int) -> None:
        with self._lock:
            if self._job != job or not self._busy or self._child is not child:
                return
            self._child, self._spare = self._spare, None
        child.end()

    def close(self) -> None:
        """End both processes."""
        with self._lock:
            children, self._child, self._spare = (self._child, self._spare), None, None
        for child in children:
            if child:
                child.end()

    def _ready(self) -> _Child:
        with self._lock:
            if self._child is None or not self._child.process.is_alive():
                self._child = self._spare if self._spare and self._spare.process.is_alive() else _Child()
                self._spare = None
            return self._child

    def _keep_spare(self) -> None:
        """A process in waiting, begun once a job is done, so that it does not slow the first one down."""
        with self._lock:
            if self._child is not None and self._spare is None and self._wants_spare:
                self._spare = _Child()


class _Overtaken(Exception):
    """A newer job waits."""


class _Gone(BaseException):
    """The server has gone: nobody waits for the job any more."""


def _processes() -> ForkServerContext | SpawnContext:
    """Where processes come from: copied from one that has loaded all and does nothing, or begun anew."""
    if not COPIED:
        return multiprocessing.get_context("spawn")
    copies = multiprocessing.get_context("forkserver")
    copies.set_forkserver_preload(["rushlight.web.warm"])
    return copies


class _Child:
    """A process with its line."""

    def __init__(self) -> None:
        context = _processes()
        self.connection, theirs = context.Pipe()
        self.process = context.Process(target=serve, args=(theirs,), daemon=True)
        self.process.start()
        self.dropped = False
        theirs.close()

    def end(self) -> None:
        self.dropped = True
        self.process.terminate()
        self.process.join(5)


# --- in the process -----------------------------------------------------------------------------------------------


def serve(line: Connection) -> None:
    """Wait for jobs and do them until the line is cut."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _end_with_server()
    import_module("rushlight.web.warm")
    held: OpenPlan | None = None
    while True:
        try:
            kind, folder, word = line.recv()
        except (EOFError, OSError):
            return
        if kind == "stop":
            continue
        try:
            answer, held = _done(line, Job(kind, folder, word), held)
            line.send(answer)
        except OSError:
            return  # the server has gone


def _end_with_server() -> None:
    """End this process as soon as its server has ended without a word, also in the midst of a stage."""
    server = multiprocessing.parent_process()
    if server is None:
        return

    def wait() -> None:
        server.join()
        os._exit(1)  # nobody waits for what it would still do; files are written whole or not at all

    threading.Thread(target=wait, daemon=True).start()


def _done(line: Connection, job: Job, held: OpenPlan | None) -> tuple[tuple[str, str], OpenPlan | None]:
    """A job's answer, and the plan as it is known then."""
    from rushlight.open_plan import open_plan

    tell = _teller(line)
    try:
        if job.kind == "answer" or held is None or str(held.folder) != job.folder:
            held = open_plan(Path(job.folder), previous=held, progress=tell)
        return ("done", json.dumps(_result(job.kind, held, job.word, tell), allow_nan=False)), held
    except _Overtaken:
        return ("overtaken", OVERTAKEN), held
    except _Gone:
        raise OSError from None
    except DocumentProblem as error:
        return ("problem", json.dumps(problems_json(error.problems))), held
    except RushlightError as error:
        return ("failed", str(error)), held
    except Exception as error:
        return ("failed", f"Working it out stopped with {type(error).__name__}: {error}"), held


def _teller(line: Connection) -> Tell:
    def tell(stage: str) -> None:
        try:
            if line.poll():
                line.recv()
                raise _Overtaken
            line.send(("stage", stage))
        except (OSError, EOFError):
            raise _Gone from None

    return tell


def _result(kind: str, held: OpenPlan, word: str, tell: Tell) -> Any:
    if kind == "sheets":
        return {"revision": held.read.revision_checksum, "sheets": _sheets(held, word)}
    if kind == "stood":
        return {"revision": held.read.revision_checksum, "picture": _stood(held, word)}
    if kind == "book":
        from rushlight.open_plan import write_book

        written = write_book(held, paper=word or "a4", progress=tell)
        return {"revision": held.read.revision_checksum, "pdf": written.pdf.name, "files": len(written.files)}
    if kind == "share":
        from rushlight.open_plan import write_share

        shared = write_share(held, pictures=word == "pictures", progress=tell)
        return {"revision": held.read.revision_checksum, "size_bytes": shared.size_bytes, "pictures": shared.pictures}
    if kind == "own":
        from rushlight.web.own_plain import own_json

        return {"revision": held.read.revision_checksum, **own_json(held.design)}
    if kind == "held":
        from rushlight.web.held_plain import held_json

        return {"revision": held.read.revision_checksum, **held_json(held.design)}
    if kind == "supplies":
        from rushlight.stages.supply_trials import supplies_tried
        from rushlight.web.supplies_plain import supplies_plain

        found = supplies_tried(held.design, progress=tell)
        return {"revision": held.read.revision_checksum, **supplies_plain(held.design, found)}
    if kind == "tried":
        from rushlight.web.tried_plain import tried_json

        key, item = json.loads(word)
        return {"revision": held.read.revision_checksum, **tried_json(held, key, item, tell)}
    if kind == "bench":
        from rushlight.web.bench_plain import bench_json

        return {"revision": held.read.revision_checksum, **bench_json(held.design)}
    if kind == "fault":
        from rushlight.web.fault_plain import fault_json

        return {"revision": held.read.revision_checksum, **fault_json(held.design)}
    from rushlight.web.answer import answer_json

    answer = answer_json(held.design, held.findings)
    return {"revision": held.read.revision_checksum, **answer}


def _sheets(held: OpenPlan, leaf: str) -> list[dict[str, Any]]:
    from rushlight.sheets import SHEETS

    kinds = LEAVES[leaf]
    drawn = [sheet for kind in SHEETS if kind.module in kinds for sheet in kind.draw(held.design, held.findings)]
    return [{"title": sheet.title, "blocks": [_block(block) for block in sheet.blocks]} for sheet in drawn]


def _stood(held: OpenPlan, word: str) -> dict[str, Any] | None:
    from rushlight.sheets.standing import standing_picture

    state, place = json.loads(word)
    drawn = standing_picture(held.design, state, place and (place[0], place[1]))
    return None if drawn is None else _block(drawn)


def _block(block: Any) -> dict[str, Any]:
    from rushlight.model.sheet import Drawing, Listing
    from rushlight.sheets.svg import PAPER, to_svg

    if isinstance(block, Drawing):
        narrow = block.narrow and {"svg": to_svg(block.narrow, PAPER), "width_mm": block.narrow.width_mm}
        return {"block": "drawing", "title": block.title, "caption": block.caption, "svg": to_svg(block, PAPER),
                "width_mm": block.width_mm, "narrow": narrow}
    if isinstance(block, Listing):
        return {"block": "listing", "title": block.title, "path": block.path, "text": block.text}
    return {"block": type(block).__name__.lower(), **plain(block)}
