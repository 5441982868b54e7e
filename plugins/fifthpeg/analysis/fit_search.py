"""The cheapest chains one after the other: what a beginning can still come to is known, so none is followed in vain.

Between chains of the same cost the first link at which they differ decides: the lick used less often, in the fits
already listed and earlier in its own chain, then the id.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, field
from heapq import heapify, heappop, heappush

import numpy as np

from .fit_costs import (ADJACENT, DROPPED, IMPOSSIBLE, LINK, NOBODY, RETURN, LeastCosts, going_on, least_from,
                        seam_costs)
from .fit_links import FitLink

Path = tuple[int, ...]


@dataclass(frozen=True)
class Course:
    """Chains that begin with one of ``firsts`` and go at one tempo: the seams and the least costs there.

    ``first_costs`` are of what stands before each link as the first."""

    firsts: tuple[int, ...]
    first_costs: np.ndarray
    ranks: np.ndarray
    least: LeastCosts


@dataclass(frozen=True, order=True)
class Node:
    """The beginning of a chain and the least it comes to; ``uses`` and ``path`` run in parallel in ``ways``."""

    promise: int
    ways: tuple[tuple[int, int], ...]
    exit_kept: bool | None = field(compare=False)
    course: int = field(compare=False)
    bars_left: int = field(compare=False)
    spent: int = field(compare=False)

    @property
    def path(self) -> Path:
        return tuple(link for _, link in self.ways)


def cheapest(links: Sequence[FitLink], courses: Sequence[Course], bars: int, shown: Sequence[int],
             listed: Collection[tuple[Path, bool | None]]) -> Node | None:
    """The first, in order, of the chains not ``listed``; ``shown[j]`` is how often link j has been listed."""
    search = _Search(links, courses, shown)
    waiting = [node for number in range(len(courses)) for node in search.beginnings(number, bars)]
    heapify(waiting)
    while waiting:
        node = heappop(waiting)
        if node.bars_left:
            for longer in search.continued(node):
                heappush(waiting, longer)
        elif (node.path, node.exit_kept) not in listed:
            return node
    return None


@dataclass(frozen=True)
class _Search:
    links: Sequence[FitLink]
    courses: Sequence[Course]
    shown: Sequence[int]

    def beginnings(self, number: int, bars: int) -> Iterator[Node]:
        course = self.courses[number]
        promises = course.first_costs + least_from(self.links, course.least, np.array(NOBODY), bars)
        for first in course.firsts:
            if promises[first] < IMPOSSIBLE:
                yield from self.with_link(Node(0, (), None, number, bars, int(course.first_costs[first])), first)

    def continued(self, node: Node) -> Iterator[Node]:
        course, path = self.courses[node.course], node.path
        last = path[-1]
        seams = seam_costs(course.ranks[last])
        seams[last] += ADJACENT
        if len(path) > 1:
            seams[path[-2]] += RETURN
        promises = going_on(self.links, course.ranks, course.least, np.array([last]), node.bars_left)[0]
        for link in np.flatnonzero(promises < IMPOSSIBLE):
            spent = node.spent + int(seams[link])
            yield from self.with_link(Node(0, node.ways, None, node.course, node.bars_left, spent), int(link))

    def with_link(self, node: Node, link: int) -> Iterator[Node]:
        """The chain with one more link: gone on with, ended without its exit, ended with it."""
        path = node.path
        ways = (*node.ways, (self.shown[link] + path.count(link), link))
        body, full = self.links[link].body_bars, self.links[link].full_bars
        has_exit, spent = bool(self.links[link].lick.exit_bars), node.spent + LINK
        if body < node.bars_left:
            still = node.bars_left - body
            to_come = self.courses[node.course].least.after(path[-1] if path else NOBODY, link, still)
            if to_come < IMPOSSIBLE:
                yield Node(spent + to_come, ways, None, node.course, still, spent)
        if body == node.bars_left:
            spent_here = spent + (DROPPED if has_exit else 0)
            yield Node(spent_here, ways, False if has_exit else None, node.course, 0, spent_here)
        if full == node.bars_left:
            yield Node(spent, ways, True, node.course, 0, spent)
