"""What hangs over the staff from note to note: arcs with their letters, and the words of chokes.

Things that overlap are put into lanes one above the other; a lane goes through the whole
lick, so that an arc broken by a barline meets itself.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from .lettering import width_of
from .plan import ARC_LETTERS, BarPlan, LickPlan
from .proportions import ARROW_ROOM, MARK_SIZE, RELEASE_ROOM
from .reach import is_let_down
from .spacing import EDGE, Spacing
from .words import step_words

ARC_INSET = 0.5
"""Chained arcs meet at a number without counting as an overlap."""


@dataclass(frozen=True)
class Hang:
    """From ``left`` in bar ``first_bar`` to ``right`` in ``last_bar``; lane 0 is the lowest."""

    words: str
    is_arc: bool
    first_bar: int
    left: float
    last_bar: int
    right: float
    lane: int = 0


def hang(plan: LickPlan, spacings: Sequence[Spacing]) -> tuple[Hang, ...]:
    offsets = [0.0, *accumulate(spacing.width for spacing in spacings)]
    found = set(_arcs(plan, spacings))
    for bar in plan.bars:
        found.update(_choke_words(bar, spacings[bar.index]))
    extents = [(offsets[item.first_bar] + item.left, offsets[item.last_bar] + item.right, item) for item in found]
    return tuple(_into_lanes(sorted(extents, key=lambda extent: (*extent[:2], extent[2].words))))


def _arcs(plan: LickPlan, spacings: Sequence[Spacing]) -> Iterator[Hang]:
    for mark, note in plan.notes.items():
        if note.touch in ARC_LETTERS and note.source in plan.homes:
            (first_bar, first), (last_bar, last) = plan.homes[note.source], plan.homes[mark]
            yield Hang(ARC_LETTERS[note.touch], True, first_bar, spacings[first_bar].xs[first] + ARC_INSET,
                       last_bar, spacings[last_bar].xs[last] - ARC_INSET)


def _choke_words(bar: BarPlan, spacing: Spacing) -> Iterator[Hang]:
    for column, x, reach in zip(bar.columns, spacing.xs, spacing.reaches, strict=True):
        bends = dict.fromkeys(step_words(note.bend) for note in column.notes if note.bend > 0)
        if bends:
            yield _word("/".join(bends), bar.index, x + reach.arrows[0] + ARROW_ROOM / 2, spacing)
        if any(is_let_down(note) for note in column.notes):
            yield _word("let down", bar.index, x - reach.left + RELEASE_ROOM / 2, spacing)


def _word(words: str, bar_index: int, middle: float, spacing: Spacing) -> Hang:
    """Over its arrow, moved so far as the bar's edges ask."""
    width = width_of(words, MARK_SIZE)
    left = min(max(middle - width / 2, EDGE), spacing.width - EDGE - width)
    return Hang(words, False, bar_index, left, bar_index, left + width)


def _into_lanes(extents: list[tuple[float, float, Hang]]) -> Iterator[Hang]:
    ends: list[float] = []
    for left, right, item in extents:
        lane = next((index for index, end in enumerate(ends) if end <= left), len(ends))
        ends[lane:lane + 1] = [right + (0 if item.is_arc else EDGE)]
        yield replace(item, lane=lane)
