"""Fingers that pick again too soon: inside a performance, and where an end meets a beginning."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..model.findings import CLASH, CLEAN, TIGHT, Join, RepeatedFinger
from ..model.hands import RIGHT_FINGERS
from .pace import Pace
from .strikes import Picking

SEVERITY = {CLEAN: 0, TIGHT: 1, CLASH: 2}


def find_repeats(pickings: Sequence[Picking], pace: Pace) -> tuple[RepeatedFinger, ...]:
    """Clashes and tight repeats in the order they are first played, one for each written place.

    Where a place is played more than once (a repeat) its quickest repeat is kept.
    """
    found: dict[tuple, RepeatedFinger] = {}
    latest: dict[str, int] = {}
    for index, picking in enumerate(pickings):
        back = [Meeting(finger, pickings[latest[finger]], picking, Fraction(0), latest[finger] == index - 1)
                for finger in _fingers(picking) if finger in latest]
        for meetings in _by_gap(back):
            repeat = _repeated(meetings, pace)
            key = (picking.marks, repeat.fingers)
            if repeat.verdict != CLEAN and (key not in found or found[key].per_second < repeat.per_second):
                found[key] = repeat
        latest |= dict.fromkeys(_fingers(picking), index)
    return tuple(found.values())


def join(before: Sequence[Picking], after: Sequence[Picking], shift: Fraction, pace: Pace) -> Join:
    """How ``before`` meets ``after``, which starts ``shift`` quarters later than its own clock says.

    ``repairs`` is left empty here: offers are made elsewhere, each after being judged by this function.
    """
    last = {finger: index for index, picking in enumerate(before) for finger in _fingers(picking)}
    first = {finger: index for index, picking in reversed(list(enumerate(after))) for finger in _fingers(picking)}
    meetings = [
        Meeting(finger, before[last[finger]], after[first[finger]], shift,
                last[finger] == len(before) - 1 and first[finger] == 0)
        for finger in RIGHT_FINGERS if finger in last and finger in first
    ]
    worst = max((_repeated(same, pace) for same in _by_gap(meetings)),
                key=lambda repeat: (SEVERITY[repeat.verdict], repeat.per_second), default=None)
    if worst is None or worst.verdict == CLEAN:
        return Join(CLEAN)
    return Join(worst.verdict, worst.fingers, worst.per_second, worst.clashes_above)


@dataclass(frozen=True)
class Meeting:
    """One finger at ``first`` and, next, at ``second``, whose clock runs ``shift`` quarters late."""

    finger: str
    first: Picking
    second: Picking
    shift: Fraction
    successive: bool

    @property
    def gap(self) -> Fraction:
        return self.second.at + self.shift - self.first.at

    @property
    def neighbour_gap(self) -> Fraction | None:
        return self.second.straight + self.shift - self.first.straight if self.successive else None


def _fingers(picking: Picking) -> list[str]:
    """Each finger once, thumb first: a brush is one finger, a pinch two."""
    return [finger for finger in RIGHT_FINGERS if finger in picking.fingers]


def _by_gap(meetings: Iterable[Meeting]) -> list[list[Meeting]]:
    """Fingers that repeat between the same two strikes belong to one finding."""
    groups: dict[Fraction, list[Meeting]] = {}
    for meeting in meetings:
        groups.setdefault(meeting.gap, []).append(meeting)
    return list(groups.values())


def _repeated(meetings: Sequence[Meeting], pace: Pace) -> RepeatedFinger:
    one = meetings[0]
    return RepeatedFinger(
        fingers=tuple(meeting.finger for meeting in meetings),
        bar=one.second.bar,
        slot=one.second.slot,
        per_second=pace.per_second(one.gap),
        verdict=pace.verdict(one.gap, one.neighbour_gap),
        clashes_above=pace.clashes_above(one.gap),
    )
