"""Right-hand letters under the stems, each finger that picks again too soon with a sign before its letter."""

from collections.abc import Iterator

from .heights import Rows
from .lettering import width_of
from .plan import BarPlan
from .proportions import CAP_HEIGHT, CUP_DROP, CUP_HALF_WIDTH, FINGER_SIZE, SIGN_GAP, SIGN_WIDTH
from .shapes import Label, Shape, Sign, arc
from .spacing import Spacing
from .words import picks_again

CUP_STANDOFF = 1.8


def draw_letters(plan: BarPlan, spacing: Spacing, rows: Rows) -> Iterator[Shape]:
    """A pinch is stacked as its strings are. A letter the writer left to the tool is light and lies in a cup."""
    for column, x in zip(plan.columns, spacing.xs, strict=True):
        for (letter, given), y in zip(column.letters, rows.fingers, strict=False):
            yield Label("finger" if given else "chosen", letter, x, y, FINGER_SIZE)
            if not given:
                yield arc("cup", x - CUP_HALF_WIDTH, x + CUP_HALF_WIDTH, y + CUP_STANDOFF, -CUP_DROP)
            repeat = column.repeat_of(letter)
            if repeat:
                beside = x - width_of(letter, FINGER_SIZE) / 2 - SIGN_GAP - SIGN_WIDTH / 2
                yield Sign("repeat", repeat.verdict, picks_again(repeat), beside, y - CAP_HEIGHT * FINGER_SIZE / 2)
