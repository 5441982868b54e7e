"""What a variant changed, in a row of its own under everything else: a line with a peg at its left end.

A shape, so that it is there in print and in any colour; neighbouring changes share one line.
A changed slot that holds or rests is marked as any other, though nothing stands there.
"""

from bisect import bisect_right
from collections.abc import Iterator

from .heights import Rows
from .plan import BarPlan
from .shapes import Block, Box, Disc, Shape
from .spacing import EDGE, Spacing

PEG_RADIUS = 2.6
LINE_THICKNESS = 1.6
REACH, REACH_OF_HOLD = 6.0, 4.0
"""How far a line goes beyond the middle of its first and last slot; shorter where no number asks for room."""


def draw_changes(plan: BarPlan, spacing: Spacing, rows: Rows) -> Iterator[Shape]:
    for run in plan.changes:
        last = max([run.last, *(column.at for column in plan.columns if run.begin <= column.at < run.end)])
        left = max(EDGE, _x_of(run.begin, plan, spacing) - _reach(run.begin, plan))
        right = min(spacing.width - EDGE, _x_of(last, plan, spacing) + _reach(last, plan))
        yield Disc("change", left + PEG_RADIUS, rows.changes, PEG_RADIUS)
        yield Block("change", Box(left + 2 * PEG_RADIUS, rows.changes - LINE_THICKNESS / 2, right,
                                  rows.changes + LINE_THICKNESS / 2))


def _reach(at: int, plan: BarPlan) -> float:
    return REACH if any(column.at == at for column in plan.columns) else REACH_OF_HOLD


def _x_of(at: int, plan: BarPlan, spacing: Spacing) -> float:
    """Where a moment would stand that has no column of its own: evenly between its neighbours."""
    marks = [(0, spacing.left), *((column.at, x) for column, x in zip(plan.columns, spacing.xs, strict=True)),
             (plan.ticks, spacing.right)]
    index = min(bisect_right([mark[0] for mark in marks], at), len(marks) - 1)
    (before, left), (after, right) = marks[index - 1], marks[index]
    return left + (right - left) * (at - before) / max(1, after - before)
