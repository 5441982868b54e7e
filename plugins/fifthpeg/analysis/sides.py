"""A lick as the hand meets it at a join: what was picked last before the barline, what is picked first after it.

Times are quarters from the lick's own start, its pick-up included.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from ..model.findings import Join
from ..model.lick import Lick
from ..model.note import Note, notes_through
from ..model.play_order import kept_order
from .pace import Pace
from .repeats import join
from .strikes import Picking, empty_slots, missing_slots, unfolded_pickings


@dataclass(frozen=True)
class Side:
    """The bars at ``order`` as played. ``end`` is the barline after them; a next pick-up may lie over the
    ``room`` before it. ``lead`` is the length of the lick's own pick-up.
    """

    lick: Lick
    order: tuple[int, ...]
    pickings: tuple[Picking, ...]
    end: Fraction
    room: Fraction
    lead: Fraction

    @cached_property
    def notes(self) -> tuple[Note, ...]:
        """All notes as played, straight."""
        return notes_through(self.lick, self.order)


def side_of(lick: Lick, with_exit: bool = False, pickings: Sequence[Picking] | None = None) -> Side:
    """``lick`` has its fingers settled. ``pickings`` of its whole performance save the work of finding them."""
    order = kept_order(lick, with_exit)
    quarters = sum(lick.bars[index].slot_count for index in order) * lick.slot_quarters
    if pickings is None:
        kept = unfolded_pickings(lick, order)
    else:
        kept = [picking for picking in pickings if picking.straight < quarters]
    return Side(lick, order, tuple(kept), quarters + _missing(lick, order), room_of(lick, order),
                lick.pickup * lick.slot_quarters)


def room_of(lick: Lick, order: Sequence[int]) -> Fraction:
    """Quarters at the end of the last of these bars over which a pick-up may lie."""
    return _missing(lick, order) + (empty_slots(lick, order[-1]) * lick.slot_quarters if order else 0)


def _missing(lick: Lick, order: Sequence[int]) -> Fraction:
    """Quarters by which the last bar is left short for a pick-up."""
    missing = missing_slots(lick, order[-1]) if order and (lick.whole or lick).pickup else 0
    return missing * lick.slot_quarters


def meet(before: Side, after: Side, pace: Pace) -> Join:
    """``after``'s bar 1 begins where ``before`` ends; its pick-up lies over what comes before that."""
    has_room = after.lead <= before.room
    found = join(before.pickings, after.pickings, before.end - (after.lead if has_room else 0), pace)
    return found if has_room else replace(found, has_room=False)
