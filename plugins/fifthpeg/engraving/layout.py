"""Pure layout: a lick and its notes become geometry."""

from collections.abc import Iterator, Sequence

from .above import TextLine, draw_above, place_texts
from .below import draw_letters
from .changes import draw_changes
from .heads import draw_brush
from .heights import Rows, stack_rows
from .lanes import Hang, hang
from .plan import BarPlan, LickPlan
from .positions import draw_positions
from .seams import draw_links
from .shapes import DrawnBar, Shape
from .spacing import Spacing
from .staff import draw_staff
from .stems import draw_stems


def lay_out(plan: LickPlan, spacings: Sequence[Spacing]) -> tuple[DrawnBar, ...]:
    """Every bar with its own origin; all are as high as the fullest needs."""
    hangs = hang(plan, spacings)
    texts = [place_texts(bar, spacing) for bar, spacing in zip(plan.bars, spacings, strict=True)]
    levels = 1 + max((line.level for lines in texts for line in lines), default=-1)
    rows = stack_rows(plan, hangs, levels)
    return tuple(_draw_bar(bar, plan, spacings, hangs, texts[bar.index], rows) for bar in plan.bars)


def _draw_bar(bar: BarPlan, plan: LickPlan, spacings: Sequence[Spacing], hangs: Sequence[Hang],
              texts: Sequence[TextLine], rows: Rows) -> DrawnBar:
    spacing = spacings[bar.index]
    heads, staff = draw_staff(bar, plan, spacings, rows)
    shapes = (*staff, *_around(bar, plan, spacing, hangs, texts, rows))
    return DrawnBar(bar.bar.number, spacing.width, rows.height, heads, shapes)


def _around(bar: BarPlan, plan: LickPlan, spacing: Spacing, hangs: Sequence[Hang], texts: Sequence[TextLine],
            rows: Rows) -> Iterator[Shape]:
    following = () if bar.is_last else plan.bars[bar.index + 1].pieces
    yield from draw_stems(bar, spacing, rows, tie_on=bool(following) and following[0].tied)
    yield from draw_letters(bar, spacing, rows)
    yield from draw_changes(bar, spacing, rows)
    yield from draw_above(bar, plan, spacing, hangs, texts, rows)
    yield from draw_positions(bar, spacing, rows)
    yield from draw_links(bar, spacing, rows)
    for column, x, reach in zip(bar.columns, spacing.xs, spacing.reaches, strict=True):
        yield from draw_brush(column, x, reach, rows)
