"""Links of a chain: their names in a row above everything, and a pin in each seam just above the strings."""

from collections.abc import Iterator

from ..model.findings import CLEAN, REPAIRED, Seam
from .heights import Rows
from .lettering import shorten, width_of
from .links import LinkStart
from .plan import BarPlan
from .proportions import CROWN, HEAD_CLEARANCE, LINK_MEASURE, LINK_SIZE, PIN_ROOM, SIGN_HEIGHT, SIGN_WIDTH
from .shapes import Label, Shape, Sign, Stroke
from .spacing import EDGE, Spacing, left_of
from .words import link_words, seam_words

NAME_GAP = 2 * EDGE
PIN_TOP = 1.0
"""Between the top of the crown and the head of a pin."""


def draw_links(plan: BarPlan, spacing: Spacing, rows: Rows) -> Iterator[Shape]:
    yield from _names(plan, spacing, rows)
    for start in plan.links:
        if start.has_pin:
            yield _pin(start, _pin_x(start, plan, spacing), rows)


def _names(plan: BarPlan, spacing: Spacing, rows: Rows) -> Iterator[Label]:
    """Each begins at its pin, or so far before it as the bar's end asks, and leaves room for those that follow."""
    wanted = [_pin_x(start, plan, spacing) - SIGN_WIDTH / 2 if start.has_pin else EDGE for start in plan.links]
    widths = [width_of(link_words(start), LINK_SIZE) for start in plan.links]
    free = EDGE
    for index, start in enumerate(plan.links):
        kept = sum(min(width, LINK_MEASURE) + NAME_GAP for width in widths[index + 1:])
        end = min([spacing.width - EDGE - kept, *(x - NAME_GAP for x in wanted[index + 1:])])
        words = shorten(link_words(start), LINK_SIZE, end - free)
        if words:
            width = width_of(words, LINK_SIZE)
            x = max(free, min(wanted[index], end - width))
            yield Label("link", words, x, rows.link, LINK_SIZE, "start", says=seam_words(start))
            free = x + width + NAME_GAP


def _pin(start: LinkStart, x: float, rows: Rows) -> Sign:
    verdict = _verdict(start.seam)
    head = rows.first_string - CROWN + PIN_TOP + SIGN_HEIGHT / 2
    shaft = Stroke("sign", ((x, head + SIGN_HEIGHT / 2), (x, rows.first_string)))
    return Sign("seam", verdict, seam_words(start), x, head, shaft)


def _verdict(seam: Seam | None) -> str:
    """A repaired seam that is still not clean is shown as what it is."""
    if seam is None:
        return ""
    return REPAIRED if seam.repair and seam.join.verdict == CLEAN else seam.join.verdict


def _pin_x(start: LinkStart, plan: BarPlan, spacing: Spacing) -> float:
    index = plan.column_index(start.slot_index * plan.ticks // plan.bar.slot_count)
    return spacing.xs[index] - left_of(plan.columns[index], spacing.reaches[index]) - (PIN_ROOM + HEAD_CLEARANCE) / 2
