"""Where the links of a chain come in, before anything has a size."""

from dataclasses import dataclass

from ..model.findings import Findings, Seam
from ..model.lick import Lick, Linked
from ..model.tab import Bar


@dataclass(frozen=True)
class LinkStart:
    """A link that comes in at slot ``slot_index`` of those drawn. ``begins`` is False where a showing opens in its
    middle. ``has_pin``: something is drawn before it, so that there is a seam to be seen; ``seam`` is what was found
    there, if anything was."""

    title: str
    slot_index: int
    begins: bool
    has_pin: bool
    seam: Seam | None = None


def link_starts(lick: Lick, findings: Findings | None) -> dict[int, tuple[LinkStart, ...]]:
    """By bar index. Left out is a link whose first slot is not drawn, unless the drawing opens in its middle."""
    if not lick.links or not lick.bars:
        return {}
    seams = {seam.link + 1: seam for seam in findings.seams} if findings else {}
    opening = lick.bars[0].number, lick.bars[0].first_slot_index + 1
    found: dict[int, list[LinkStart]] = {}
    for number, link in enumerate(lick.links):
        place = _place(lick.bars, link)
        if place is None and number == lick.link_at(*opening):
            found.setdefault(0, []).insert(0, LinkStart(_title(link, number), 0, False, False))
        elif place is not None:
            has_pin = place != (0, 0)
            start = LinkStart(_title(link, number), place[1], True, has_pin, seams.get(number) if has_pin else None)
            found.setdefault(place[0], []).append(start)
    return {bar_index: tuple(starts) for bar_index, starts in found.items()}


def _place(bars: tuple[Bar, ...], link: Linked) -> tuple[int, int] | None:
    """(bar index, slot index among those drawn)."""
    bar_number, slot = link.first
    for bar_index, bar in enumerate(bars):
        slot_index = slot - 1 - bar.first_slot_index
        if bar.number == bar_number and 0 <= slot_index < bar.slot_count:
            return bar_index, slot_index
    return None


def _title(link: Linked, number: int) -> str:
    return link.title or link.id or f"link {number + 1}"
