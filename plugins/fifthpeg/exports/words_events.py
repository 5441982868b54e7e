"""What is said of a bar, moment by moment: strikes, silences, and the holds that a variant put there."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice

from ..model.lick import Lick
from ..model.note import Moment, Note, moments_of, notes_in
from ..model.tab import Bar, Group, Hold, Rest, Strike


@dataclass(frozen=True)
class Event:
    """What happens at one moment. ``notes`` are those of its strike; ``quarters`` how long it goes on.

    ``group`` and ``index`` tell a tuplet's shares from plain time.
    """

    moment: Moment
    notes: tuple[Note, ...]
    quarters: Fraction
    group: Group | None = None
    index: int = 0


def events_of(lick: Lick, notes: Sequence[Note]) -> list[list[Event]]:
    """Strikes and silences of each bar; a silence that goes over a barline begins anew in the next bar."""
    bars, coming, start, silent = [], iter(notes), Fraction(0), False
    for index, bar in enumerate(lick.bars):
        found: list[Event] = []
        for moment, group, place in _moments(bar, index, start, lick.slot_quarters):
            if isinstance(moment.event, Strike):
                silent = False
                found.append(Event(moment, tuple(islice(coming, notes_in(moment.event))), Fraction(0), group, place))
            elif isinstance(moment.event, Rest) or not found and silent:
                if not silent or not found:
                    found.append(Event(moment, (), Fraction(0), group, place))
                silent = True
        bars.append(found)
        start += bar.slot_count * lick.slot_quarters
    return [_with_changed_holds(lick, index, events) for index, events in enumerate(_with_lengths(bars, lick))]


def _with_changed_holds(lick: Lick, bar_index: int, events: list[Event]) -> list[Event]:
    """Holds, and rests in a silence, are no events of their own, but for those that a variant put there."""
    bar = lick.bars[bar_index]
    changed = {slot for number, slot in lick.changed if number == bar.number and not lick.is_new(bar)}
    waiting = changed - {event.moment.slot for event in events}
    if not waiting:
        return events
    start = sum(before.slot_count for before in lick.bars[:bar_index]) * lick.slot_quarters
    holds: list[Event] = []
    for moment, group, place in _moments(bar, bar_index, start, lick.slot_quarters):
        if moment.slot in waiting and not place:
            before = next((event for event in reversed(events) if event.moment.at < moment.at), None)
            said = moment if before is None or before.notes else replace(moment, event=Rest())
            holds.append(Event(said, (), Fraction(0), group))
    return sorted(events + holds, key=lambda event: event.moment.at)


def _moments(bar: Bar, bar_index: int, start: Fraction,
             slot_quarters: Fraction) -> Iterator[tuple[Moment, Group | None, int]]:
    """Each with the group it stands in, if any, and its place there from 0."""
    places = [(cell, index) if isinstance(cell, Group) else (None, 0)
              for cell in bar.cells for index in range(len(cell.cells) if isinstance(cell, Group) else 1)]
    for moment, (group, index) in zip(moments_of(bar, bar_index, start, slot_quarters), places, strict=True):
        yield moment, group, index


def _with_lengths(bars: Sequence[Sequence[Event]], lick: Lick) -> Iterator[list[Event]]:
    """A strike goes on to the next event, over barlines too; a silence to the next event of its bar."""
    barlines, end = [], Fraction(0)
    for bar in lick.bars:
        end += bar.slot_count * lick.slot_quarters
        barlines.append(end)
    following = end
    backwards: list[list[Event]] = []
    for events, barline in zip(reversed(bars), reversed(barlines), strict=True):
        timed = []
        for event in reversed(events):
            until = following if event.notes else min(following, barline)
            timed.append(Event(event.moment, event.notes, until - event.moment.at, event.group, event.index))
            following = event.moment.at
        backwards.append(timed[::-1])
    yield from reversed(backwards)
