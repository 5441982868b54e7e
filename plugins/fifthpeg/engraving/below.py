"""Right-hand letters under the stems."""

from collections.abc import Iterator

from .heights import Rows
from .plan import BarPlan
from .proportions import CUP_DROP, CUP_HALF_WIDTH, FINGER_SIZE
from .shapes import Label, Shape, arc
from .spacing import Spacing

CUP_STANDOFF = 1.8


def draw_letters(plan: BarPlan, spacing: Spacing, rows: Rows) -> Iterator[Shape]:
    """A pinch is stacked as its strings are. A letter the writer left to the tool is light and lies in a cup."""
    for column, x in zip(plan.columns, spacing.xs, strict=True):
        for (letter, given), y in zip(column.letters, rows.fingers, strict=False):
            yield Label("finger" if given else "chosen", letter, x, y, FINGER_SIZE)
            if not given:
                yield arc("cup", x - CUP_HALF_WIDTH, x + CUP_HALF_WIDTH, y + CUP_STANDOFF, -CUP_DROP)
