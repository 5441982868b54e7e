"""Where the links of a chain are in a lick: on paper, and as performed."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from ..model.bounce import bounced
from ..model.lick import Lick, Linked
from ..model.performance import Performance


@dataclass(frozen=True)
class LinkPlace:
    """Link ``number`` (from 0) comes in at slot ``slot_index`` of ``lick.bars[bar_index]``, counted from the first
    slot shown. ``begins`` is False where a showing leaves out its beginning."""

    number: int
    link: Linked
    bar_index: int
    slot_index: int
    begins: bool = True


def link_places(lick: Lick) -> tuple[LinkPlace, ...]:
    """Links of which something is shown, in order; a showing may begin in the middle of one. None without a chain."""
    if not lick.links or not lick.bars:
        return ()
    begun = tuple(_beginnings(lick))
    first = lick.bars[0]
    number = lick.link_at(first.number, first.first_slot_index + 1)
    if begun and begun[0].number == number:
        return begun
    return LinkPlace(number, lick.links[number], 0, 0, begins=False), *begun


def link_start(place: LinkPlace, lick: Lick, performance: Performance) -> Fraction:
    """When a link comes in, in quarters, with the bounce in it."""
    number = lick.bars[place.bar_index].number
    bar = next(bar for bar in performance.bar_map if bar.bar == number)
    straight = bar.start + place.slot_index * lick.slot_quarters
    return bar.barline + bounced(straight - bar.barline, lick.bounce)


def _beginnings(lick: Lick) -> Iterator[LinkPlace]:
    index_of = {bar.number: index for index, bar in enumerate(lick.bars)}
    for number, link in enumerate(lick.links):
        bar_number, slot = link.first
        if bar_number in index_of:
            bar = lick.bars[index_of[bar_number]]
            slot_index = slot - 1 - bar.first_slot_index
            if 0 <= slot_index < bar.slot_count:
                yield LinkPlace(number, link, index_of[bar_number], slot_index)
