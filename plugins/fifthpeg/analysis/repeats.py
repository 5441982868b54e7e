"""Fingers that pick again too soon: inside a performance, and where an end meets a beginning."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..model.findings import CLEAN, Join, RepeatedFinger
from ..model.hands import RIGHT_FINGERS
from .pace import Pace
from .strikes import Picking


def find_repeats(pickings: Sequence[Picking], pace: Pace) -> tuple[RepeatedFinger, ...]:
    """Clashes and tight repeats in the order they are first played, one for each written place.

    Where a place is played more than once (a repeat) its quickest repeat is kept.
    """
    found: dict[tuple, RepeatedFinger] = {}
    latest: dict[str, int] = {}
    for index, picking in enumerate(pickings):
        fingers = _fingers(picking)
        meetings = [Meeting(finger, pickings[latest[finger]], picking, latest[finger] == index - 1)
                    for finger in fingers if finger in latest]
        for repeat in _repeats(meetings, pace):
            key = (picking.marks, repeat.fingers)
            if key not in found or found[key].per_second < repeat.per_second:
                found[key] = repeat
        latest |= dict.fromkeys(fingers, index)
    return tuple(found.values())


def join(before: Sequence[Picking], after: Sequence[Picking], shift: Fraction, pace: Pace) -> Join:
    """How ``before`` meets ``after``, which starts ``shift`` quarters later than its own clock says.

    ``repairs`` is left empty here: offers are made elsewhere, each after being judged by this function.
    """
    last = {finger: index for index, picking in enumerate(before) for finger in _fingers(picking)}
    first = {finger: index for index, picking in reversed(list(enumerate(after))) for finger in _fingers(picking)}
    meetings = [
        Meeting(finger, before[last[finger]], after[first[finger]],
                last[finger] == len(before) - 1 and first[finger] == 0, shift)
        for finger in RIGHT_FINGERS if finger in last and finger in first
    ]
    worst = max(_repeats(meetings, pace), key=lambda repeat: repeat.per_second, default=None)
    if worst is None:
        return Join(CLEAN)
    return Join(worst.verdict, worst.fingers, worst.per_second, worst.clashes_above)


@dataclass(frozen=True)
class Meeting:
    """One finger at ``first`` and, next, at ``second``, whose clock runs ``shift`` quarters late.

    ``successive`` when no strike lies between.
    """

    finger: str
    first: Picking
    second: Picking
    successive: bool
    shift: Fraction | int = 0

    def gap(self) -> Fraction:
        return self.second.at + self.shift - self.first.at

    def verdict(self, gap: Fraction, pace: Pace) -> str:
        """``gap`` is its own, reckoned once."""
        neighbour_gap = self.second.straight + self.shift - self.first.straight if self.successive else None
        return pace.verdict(gap, neighbour_gap)


def _fingers(picking: Picking) -> list[str]:
    """Each finger once, thumb first: a brush is one finger, a pinch two."""
    return [finger for finger in RIGHT_FINGERS if finger in picking.fingers]


def _repeats(meetings: Sequence[Meeting], pace: Pace) -> list[RepeatedFinger]:
    """What is not clean; fingers that repeat between the same two strikes make one finding."""
    groups: dict[Fraction, tuple[str, list[Meeting]]] = {}
    for meeting in meetings:
        gap = meeting.gap()
        verdict = meeting.verdict(gap, pace)
        if verdict != CLEAN:
            groups.setdefault(gap, (verdict, []))[1].append(meeting)
    return [_repeated(together, gap, verdict, pace) for gap, (verdict, together) in groups.items()]


def _repeated(together: Sequence[Meeting], gap: Fraction, verdict: str, pace: Pace) -> RepeatedFinger:
    return RepeatedFinger(
        fingers=tuple(meeting.finger for meeting in together),
        bar=together[0].second.bar,
        slot=together[0].second.slot,
        per_second=pace.per_second(gap),
        verdict=verdict,
        clashes_above=pace.clashes_above(gap),
    )
