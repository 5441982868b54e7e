"""Repairs of a join: small changes of one lick, each judged by the same rule as the join before it is offered.

An offer makes the join clean, leaves no finger inside its lick repeating where it did not or faster than it did,
and takes nothing from under a slide, hammer-on, pull-off or choke. The smallest change comes first: the fewest notes
touched, then the order hold, thumb, refinger, single, pinch.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from ..model.findings import CLEAN, Repair
from ..model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND
from ..model.lick import Lick
from ..model.note import Note, notes_through
from .changes import AT_END, HOLD, Change, changed, end_changes, held_by, start_changes, worsens
from .pace import Pace, pace_of
from .saying import say
from .settle import at_pace, rewritten, settled
from .sides import Side, meet, room_of, side_of


@dataclass(frozen=True)
class Offer:
    """``before`` and ``after`` as they would be: one of them changed (the same lick twice for a loop).

    Both have all fingers settled, and keep their own tempo, bounce and exit.
    """

    name: str
    says: str
    before: Lick
    after: Lick

    @property
    def repair(self) -> Repair:
        return Repair(self.name, self.says)


def repairs_for(before: Lick, after: Lick, tempo: Fraction | None = None, bounce: int | None = None,
                clash_per_second: float = CLASH_PER_SECOND,
                tight_per_second: float = TIGHT_PER_SECOND) -> tuple[Offer, ...]:
    """What would make the seam clean, one offer a name; empty where it is clean, or nothing helps.

    ``tempo`` and ``bounce`` as in ``seams.seam``.
    """
    speeds = clash_per_second, tight_per_second
    tempo, bounce = before.tempo if tempo is None else tempo, before.bounce if bounce is None else bounce
    licks = settled(before, *speeds), settled(after, *speeds)
    first, second = (at_pace(lick, tempo, bounce) for lick in licks)
    ending, beginning, pace = side_of(first), side_of(second, with_exit=True), pace_of(first, *speeds)
    offers = []
    for change in seam_repairs(ending, beginning, pace):
        side, lick = (ending, licks[0]) if change.where == AT_END else (beginning, licks[1])
        says = of_lick(lick, change.where) + say(change, side.lick, side.notes)
        made = rewritten(lick, dict(change.fingers), change.lost)
        offers.append(Offer(change.name, says, *((made, licks[1]) if change.where == AT_END else (licks[0], made))))
    return tuple(offers)


def loop_repairs(lick: Lick, with_exit: bool = False, clash_per_second: float = CLASH_PER_SECOND,
                 tight_per_second: float = TIGHT_PER_SECOND) -> tuple[Offer, ...]:
    """What would make the lick follow itself cleanly."""
    lick = settled(lick, clash_per_second, tight_per_second)
    side, pace = side_of(lick, with_exit), pace_of(lick, clash_per_second, tight_per_second)
    offers = []
    for change in looped_repairs(side, pace):
        made = rewritten(lick, dict(change.fingers), change.lost)
        offers.append(Offer(change.name, say(change, lick, side.notes), made, made))
    return tuple(offers)


def seam_repairs(before: Side, after: Side, pace: Pace) -> tuple[Change, ...]:
    """The changes offered, on sides already played at the block's tempo and bounce."""
    if meet(before, after, pace).verdict == CLEAN:
        return ()

    def mends(change: Change) -> bool:
        sides = (_changed(before, change), after) if change.where == AT_END else (before, _changed(after, change))
        return meet(*sides, pace).verdict == CLEAN

    def suits(change: Change) -> bool:
        return mends(change) and harmless(before if change.where == AT_END else after, change, pace)

    return first_of_each_name((*end_changes(before.pickings), *start_changes(after.pickings)), suits)


def looped_repairs(side: Side, pace: Pace) -> tuple[Change, ...]:
    """The same for a lick and itself: the change comes round every time."""
    if meet(side, side, pace).verdict == CLEAN:
        return ()

    def mends(change: Change) -> bool:
        made = _changed(side, change)
        return meet(made, made, pace).verdict == CLEAN and harmless(side, change, pace)

    return first_of_each_name((*end_changes(side.pickings), *start_changes(side.pickings)), mends)


def harmless(side: Side, change: Change, pace: Pace) -> bool:
    """Whether the rest of the lick is no worse for it, and everything that is held or reached still sounds."""
    return _still_sounds(side, change) and not worsens(side.pickings, change, pace)


def first_of_each_name(changes: Iterable[Change], suits: Callable[[Change], bool]) -> tuple[Change, ...]:
    """The smallest change of each name that ``suits``, but none that only adds fingers to a smaller one."""
    found: dict[str, Change] = {}
    for change in sorted(changes, key=lambda change: change.size):
        if change.name in found or any(change.only_adds_to(smaller) for smaller in found.values()):
            continue
        if suits(change):
            found[change.name] = change
    return tuple(found.values())


def _changed(side: Side, change: Change) -> Side:
    made = replace(side, pickings=tuple(changed(side.pickings, change)))
    return replace(made, room=room_of(rewritten(side.lick, {}, change.lost), side.order)) if change.lost else made


def _still_sounds(side: Side, change: Change) -> bool:
    """A hold needs something to hold; an arrival needs the very note it comes from."""
    if change.name == HOLD and not all(held_by(side.notes, note) for note in side.notes if note.mark in change.lost):
        return False
    if not any(note.source in change.lost for note in side.notes):
        return True
    came = {(note.start, note.string): note.from_fret for note in side.notes if not note.picked}
    made = notes_through(rewritten(side.lick, {}, change.lost), side.order)
    return all(note.source and came[note.start, note.string] == note.from_fret for note in made if not note.picked)


def of_lick(lick: Lick, where: str) -> str:
    """Which of the two licks, where it has a name."""
    return f"at the {where} of {lick.title}: " if lick.title else ""
