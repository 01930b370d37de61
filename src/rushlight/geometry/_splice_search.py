"""Splice trees too large to solve exactly: cheapest insertion, ruin and recreate, patches solved exactly."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from rushlight.geometry._splice_dp import Branch, Task, solve
from rushlight.geometry.outline import FloatArray
from rushlight.geometry.sight import IntArray

Best = tuple[float, tuple[IntArray, IntArray, FloatArray, npt.NDArray[np.bool_], IntArray], list[list[int]], list[int]]
Pool = tuple[IntArray, IntArray]

LOOK_AT_ALL = 150
"""Trees up to this many lamps look at every lead for an insertion; larger ones near the lamp alone."""

NEAR_NODES = 80
NEAR_SITES = 120

FEED = 0
NONE = -1


class SpliceSearch:
    """A splice tree under change. Node 0 is the feed, 1..n are the lamps, the rest are splices.

    Private to `tree.py`: it changes in place because a search makes ten thousands of small moves; every move can be
    taken back by its journal.
    """

    def __init__(self, task: Task) -> None:
        lamps = len(task.leaf_site)
        size = 2 * lamps + 2
        self.task = task
        self.lead = task.lead
        self.lamps = lamps
        self.parent = np.full(size, NONE)
        self.site = np.zeros(size, dtype=int)
        self.site[FEED] = task.root
        self.site[1 : lamps + 1] = task.leaf_site
        self.up = np.zeros(size)  # cost of the lead to the parent
        self.alive = np.zeros(size, dtype=bool)
        self.kids: list[list[int]] = [[] for _ in range(size)]
        self.spare = list(range(size - 1, lamps, -1))
        self.cost = 0.0
        self.journal: dict[int, tuple[int, int, float, bool, list[int], int]] | None = None
        self.may_splice = np.zeros(len(task.lead), dtype=bool)
        self.may_splice[task.allowed] = True
        self.to_splice = np.ascontiguousarray(task.lead[:, task.allowed])
        self.room = np.zeros(size, dtype=int)  # leads that a splice can still take

    # -- journal

    def _touch(self, node: int) -> None:
        if self.journal is not None and node not in self.journal:
            self.journal[node] = (
                int(self.parent[node]), int(self.site[node]), float(self.up[node]), bool(self.alive[node]),
                list(self.kids[node]), int(self.room[node]),
            )  # fmt: skip

    def mark(self) -> tuple[float, list[int]]:
        """Start a journal."""
        self.journal = {}
        return self.cost, list(self.spare)

    def take_back(self, mark: tuple[float, list[int]]) -> None:
        """Undo everything since the mark."""
        for node, (parent, site, up, alive, kids, room) in (self.journal or {}).items():
            self.parent[node], self.site[node], self.up[node], self.alive[node] = parent, site, up, alive
            self.kids[node] = kids
            self.room[node] = room
        self.cost, self.spare = mark[0], mark[1]
        self.journal = None

    def mark_best(self) -> Best:
        """A copy of the whole tree."""
        columns = (self.parent.copy(), self.site.copy(), self.up.copy(), self.alive.copy(), self.room.copy())
        return self.cost, columns, [list(k) for k in self.kids], list(self.spare)

    def restore_best(self, best: Best) -> None:
        """Back to a copy."""
        self.journal = None
        self.cost, (self.parent, self.site, self.up, self.alive, self.room), self.kids, self.spare = best

    # -- links

    def _link(self, node: int, parent: int) -> None:
        self._touch(node)
        self._touch(parent)
        self.kids[parent].append(node)
        self.room[parent] -= 1
        self.parent[node], self.alive[node] = parent, True
        self.up[node] = self.lead[self.site[node], self.site[parent]]
        self.cost += self.up[node]

    def _unlink(self, node: int) -> None:
        parent = int(self.parent[node])
        self._touch(node)
        self._touch(parent)
        self.kids[parent].remove(node)
        self.room[parent] += 1
        self.parent[node], self.alive[node] = NONE, False
        self.cost -= self.up[node]

    def _new_splice(self, site: int) -> int:
        node = self.spare.pop()
        self._touch(node)
        self.site[node], self.kids[node] = site, []
        self.room[node] = self.task.max_leads - 1
        self.cost += self.task.splice_cost
        return node

    def _drop_splice(self, node: int) -> None:
        self._touch(node)
        self.room[node] = 0
        self.spare.append(node)
        self.cost -= self.task.splice_cost

    # -- moves

    def detach(self, node: int) -> None:
        """Take a branch off; a splice left with two leads is dissolved."""
        parent = int(self.parent[node])
        self._unlink(node)
        if parent != FEED and len(self.kids[parent]) == 1:
            child, above = self.kids[parent][0], int(self.parent[parent])
            self._unlink(child)
            self._unlink(parent)
            self._drop_splice(parent)
            self._link(child, above)

    def nearby(self, node: int, removed: Sequence[int]) -> Pool | None:
        """Nodes and splice sites near one node, to look among in a large tree; None: look among all."""
        if self.lamps <= LOOK_AT_ALL:
            return None
        mine = self.lead[self.site[node]]
        alive = np.flatnonzero(self.alive)
        near = alive[_smallest(mine[self.site[alive]], NEAR_NODES)]
        fresh = np.array([*removed, *self.spare[-len(removed) :]], dtype=int)  # what the next moves may add
        columns = np.sort(_smallest(mine[self.task.allowed], NEAR_SITES))
        return np.concatenate([near, fresh]), columns

    def attach(self, node: int, noise: FloatArray | None = None, pool: Pool | None = None) -> None:
        """Hang a branch where it costs least: on a splice with room, or on a new splice within a lead."""
        below = np.flatnonzero(self.alive) if pool is None else pool[0][self.alive[pool[0]]]
        if not len(below):
            self._link(node, FEED)
            return
        spot = self._best_room(node, below, noise)
        split = self._best_split(node, below, noise, None if pool is None else pool[1])
        if spot[0] <= split[0]:
            self._link(node, spot[1])
            return
        self._insert(node, split[1], split[2])

    def _insert(self, node: int, below: int, site: int) -> None:
        above = int(self.parent[below])
        self._unlink(below)
        splice = self._new_splice(site)
        self._link(splice, above)
        self._link(below, splice)
        self._link(node, splice)

    def _best_room(self, node: int, below: IntArray, noise: FloatArray | None) -> tuple[float, int]:
        room = below[self.room[below] > 0]
        if not len(room):
            return math.inf, NONE
        cost = self.lead[self.site[node]][self.site[room]]
        if noise is not None:
            cost = cost * noise[room]
        best = int(cost.argmin())
        return float(cost[best]), int(room[best])

    def _best_split(
        self, node: int, below: IntArray, noise: FloatArray | None, columns: IntArray | None
    ) -> tuple[float, int, int]:
        """Least cost of a new splice within a lead, the lead's lower node, and the splice's site."""
        mine = self.lead[self.site[node]]
        low, high = self.site[below], self.site[self.parent[below]]
        detour = mine[low] + mine[high] - self.up[below]
        if noise is not None:
            detour = detour * noise[below]
        few = _smallest(detour, 4)
        if columns is None:
            total = self.to_splice[low[few]] + self.to_splice[high[few]] + self.to_splice[self.site[node]]
        else:
            rows = np.concatenate([low[few], high[few]])[:, None]
            both = self.to_splice[rows, columns]
            total = both[: len(few)] + both[len(few) :] + self.to_splice[self.site[node], columns]
        spot = total.argmin(axis=1)
        cost = total[np.arange(len(few)), spot] - self.up[below[few]] + self.task.splice_cost
        if noise is not None:
            cost = cost * noise[below[few]]
        best = int(cost.argmin())
        where = spot[best] if columns is None else columns[spot[best]]
        return float(cost[best]), int(below[few[best]]), int(self.task.allowed[where])

    def settle(self, nodes: Sequence[int]) -> None:
        """Move each of the splices to its best site while its neighbours stay."""
        for node in nodes:
            if node <= self.lamps or not self.alive[node]:
                continue
            around = [int(self.parent[node]), *self.kids[node]]
            total = self.to_splice[self.site[around]].sum(axis=0)
            z = int(total.argmin())
            gain = float(self.lead[self.site[node], self.site[around]].sum() - total[z])
            if gain > 1e-9:
                self._move(node, int(self.task.allowed[z]))

    def _move(self, node: int, site: int) -> None:
        self._touch(node)
        self.site[node] = site
        for low, high in ((node, int(self.parent[node])), *((kid, node) for kid in self.kids[node])):
            self._touch(low)
            fresh = self.lead[self.site[low], self.site[high]]
            self.cost += float(fresh - self.up[low])
            self.up[low] = fresh

    # -- patches

    def splices(self) -> list[int]:
        """Numbers of the splices in the tree."""
        return [int(k) for k in np.flatnonzero(self.alive) if k > self.lamps]

    def solve_patch(self, centre: int, leaves: int) -> bool:
        """Solve the splices round one of them anew, exactly; True when that was cheaper."""
        patch, top = self._patch(centre, leaves)
        inside = set(patch)
        branches = [kid for k in patch for kid in self.kids[k] if kid not in inside]
        above = int(self.parent[top])
        old = float(self.up[patch].sum() + self.up[branches].sum()) + self.task.splice_cost * len(patch)
        sites = self._local_sites([above, *branches, *patch])
        cost, tree = solve(self._local_task(sites, above, branches))
        if cost >= old - 1e-9:
            return False
        for k in branches:
            self._unlink(k)
        for k in patch:
            self._unlink(k)
            self._drop_splice(k)
        self._graft(tree, above, branches, sites)
        return True

    def _patch(self, centre: int, leaves: int) -> tuple[list[int], int]:
        patch, queue, hanging = [centre], [centre], len(self.kids[centre])
        while queue:
            node = queue.pop(0)
            for near in (int(self.parent[node]), *self.kids[node]):
                more = len(self.kids[near]) - 1
                if near > self.lamps and near not in patch and hanging + more <= leaves:
                    patch.append(near)
                    queue.append(near)
                    hanging += more
        top = next(k for k in patch if int(self.parent[k]) not in patch)
        return patch, top

    def _local_sites(self, nodes: list[int]) -> IntArray:
        held = self.site[nodes]
        near = np.sort(_nearest(self.lead[np.ix_(held, self.task.allowed)], 3).ravel())
        return np.unique(np.concatenate([held, self.task.allowed[near]]))

    def _local_task(self, sites: IntArray, above: int, branches: list[int]) -> Task:
        where = np.searchsorted(sites, self.site[branches])
        root = int(np.searchsorted(sites, self.site[above]))
        allowed = np.flatnonzero(self.may_splice[sites])
        lead = self.lead[np.ix_(sites, sites)]
        return Task(lead, where, root, self.task.splice_cost, self.task.max_leads, allowed)

    def _graft(self, tree: Branch, above: int, branches: list[int], sites: IntArray) -> None:
        node = branches[tree.leaf] if tree.leaf >= 0 else self._new_splice(int(sites[tree.site]))
        self._link(node, above)
        for child in tree.children:
            self._graft(child, node, branches, sites)


def _smallest(values: FloatArray, count: int) -> IntArray:
    few = np.argpartition(values, count)[:count] if count < len(values) else np.arange(len(values))
    return few[np.argsort(values[few], kind="stable")]


def _nearest(rows: FloatArray, count: int) -> IntArray:
    count = min(count, rows.shape[1])
    return np.argpartition(rows, count - 1, axis=1)[:, :count]
