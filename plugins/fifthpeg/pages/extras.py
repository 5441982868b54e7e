"""Small tabs beside the lick's own on its page: its end mended, a seam mended, the lick in context.

A lick's own page has no lines of an author's: its tabs are told apart by number.
"""

from collections.abc import Mapping

from .addresses import lick_page
from .html import text
from .published import Published
from .slots import Spot, slot

OWN_LINE, PARENTS_LINE, REPAIRED_LINE, CONTEXT_LINE = 0, 1, 2, 3
SEAM_LINES_FROM = 10
NONE: Mapping = {}
HEAR_IT = "See and hear it mended"
IN_CONTEXT = "See and hear it in context"


def own_spot(lick_id: str) -> Spot:
    return lick_page(lick_id), OWN_LINE


def parents_spot(lick_id: str) -> Spot:
    return lick_page(lick_id), PARENTS_LINE


def repaired_spot(lick_id: str) -> Spot:
    return lick_page(lick_id), REPAIRED_LINE


def context_spot(lick_id: str) -> Spot:
    return lick_page(lick_id), CONTEXT_LINE


def repaired_seam_spot(lick_id: str, link: int) -> Spot:
    """``link`` is the number (from 0) of the link before the seam."""
    return lick_page(lick_id), SEAM_LINES_FROM + link


def small_tabs(contexts: Mapping[str, Published] = NONE,
               seams: Mapping[tuple[str, int], Published] = NONE) -> dict[Spot, Published]:
    """All by their places; ``contexts`` by lick id, ``seams`` by chain id and number of the link."""
    return ({context_spot(lick_id): tab for lick_id, tab in contexts.items()}
            | {repaired_seam_spot(*seam): tab for seam, tab in seams.items()})


def heard_fold(spot: Spot, extras: Mapping[Spot, Published], summary: str = HEAR_IT) -> str:
    """A fold with room for the tab; nothing where there is none."""
    if spot not in extras:
        return ""
    return f'<details class="fp-fold"><summary>{text(summary)}</summary>{slot(*spot)}</details>'


def open_fold(summary: str, content: str) -> str:
    """``content`` is HTML."""
    return f'<details class="fp-fold" open><summary>{text(summary)}</summary>{content}</details>'
