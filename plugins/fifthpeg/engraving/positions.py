"""The name of the left hand's position, in the row of the chords where that has room."""

from collections.abc import Iterator

from .heights import Rows
from .lettering import width_of
from .plan import BarPlan
from .proportions import BAR_NUMBER_SIZE, CHORD_SIZE, EIGHTH_GAP, POSITION_SIZE, REPEAT_SIZE
from .shapes import Label
from .spacing import CHORD_INDENT, EDGE, NUMBER_INDENT, Spacing, bar_number_words, repeat_words

FIRST_POSITION = 1
GAP = 6.0
FARTHEST = EIGHTH_GAP
"""A name may begin as far after its note, since a chord often stands over it."""
Span = tuple[float, float]


def draw_positions(plan: BarPlan, spacing: Spacing, rows: Rows) -> Iterator[Label]:
    """Only above the first position. A name that finds no room over its note is left out; the note still says it."""
    taken: list[Span] | None = None
    for column, x in zip(plan.columns, spacing.xs, strict=True):
        if column.position and column.position.fret > FIRST_POSITION:
            taken = list(_taken(plan, spacing)) if taken is None else taken
            width = width_of(column.position.name, POSITION_SIZE)
            left = _free_left(x, width, taken, spacing.width)
            if left is not None:
                taken.append((left, left + width))
                yield Label("position", column.position.name, left, rows.chord, POSITION_SIZE, "start")


def _free_left(x: float, width: float, taken: list[Span], bar_width: float) -> float | None:
    """The place nearest to the note at ``x`` from which the name still stands over it."""
    wanted = x - CHORD_INDENT
    tries = [wanted, bar_width - EDGE - width, *(end + GAP for _, end in taken),
             *(begin - GAP - width for begin, _ in taken)]
    fitting = [left for left in tries if EDGE <= left <= bar_width - EDGE - width
               and left <= x + FARTHEST and x <= left + width
               and all(left + width + GAP <= begin or end + GAP <= left for begin, end in taken)]
    return min(fitting, key=lambda left: (abs(left - wanted), left), default=None)


def _taken(plan: BarPlan, spacing: Spacing) -> Iterator[Span]:
    yield NUMBER_INDENT, NUMBER_INDENT + width_of(bar_number_words(plan), BAR_NUMBER_SIZE)
    for column, x in zip(plan.columns, spacing.xs, strict=True):
        if column.chord:
            yield x - CHORD_INDENT, x - CHORD_INDENT + width_of(column.chord, CHORD_SIZE)
    if plan.bar.repeat_times:
        right = spacing.width - EDGE
        yield right - width_of(repeat_words(plan), REPEAT_SIZE), right
