"""The tab read aloud, bar by bar and beat by beat, for those who don't read it.

A bar's sentences come in the order of time. A hold is not read by itself: what goes on for
longer than its slot says how long; only a hold that a variant put there is said. Fingers
chosen by the tool are said like written ones.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice

from ..model.lick import Lick
from ..model.note import Moment, Note, moments_of, notes_in
from ..model.tab import Bar, Group, Hold, Rest, Strike, cell_slots
from .words_signs import chord_words, ending_words, repeat_sentences, turn_words
from .words_strike import strike_words
from .words_time import duration_words, group_words, label, ordinal, place_words

WAY_OUT = "the way out"
CHANGED = ", changed"


@dataclass(frozen=True)
class BarWords:
    """``bar`` 0 is the pick-up. ``heading`` names the bar; neither it nor the ``sentences`` are escaped."""

    bar: int
    heading: str
    sentences: tuple[str, ...]

    @property
    def text(self) -> str:
        return " ".join((f"{self.heading}.", *self.sentences))


@dataclass(frozen=True)
class _Event:
    """What happens at one moment. ``notes`` are those of its strike; ``quarters`` how long it goes on.

    ``group`` and ``index`` tell a tuplet's shares from plain time.
    """

    moment: Moment
    notes: tuple[Note, ...]
    quarters: Fraction
    group: Group | None = None
    index: int = 0


def words_text(lick: Lick, notes: Sequence[Note]) -> str:
    """One bar a line."""
    return "\n".join(bar.text for bar in words(lick, notes)) + "\n"


def words(lick: Lick, notes: Sequence[Note]) -> tuple[BarWords, ...]:
    """``notes`` are the lick's written notes with fingers filled in."""
    events = _events(lick, notes)
    said, start = [], Fraction(0)
    for index, bar in enumerate(lick.bars):
        origin = start - lick.late_start(bar)
        sentences = (*repeat_sentences(lick.bars, index), *_bar_sentences(lick, bar, events[index], start, origin),
                     *turn_words(lick.bars, index))
        said.append(BarWords(bar.number, _heading(lick, bar), sentences))
        start += bar.slot_count * lick.slot_quarters
    return tuple(said)


def _heading(lick: Lick, bar: Bar) -> str:
    named = [f"Bar {bar.number}" if bar.number else "Pick-up bar", *_part_shown(lick, bar)]
    if lick.is_new(bar):
        named.append("new")
    if bar.ending:
        named.append(ending_words(bar.ending))
    if lick.exit_bars and bar.number > lick.bars[-1].number - lick.exit_bars:
        named.append(WAY_OUT)
    return ", ".join(named)


def _part_shown(lick: Lick, bar: Bar) -> Iterator[str]:
    """Where a cut bar begins and where it stops, counted from its own barline."""
    begin = lick.late_start(bar)
    if bar.first_slot_index:
        yield f"from {place_words(begin, lick.meter)}"
    if lick.ends_early(bar):
        last = begin + (bar.slot_count - cell_slots(bar.cells[-1])) * lick.slot_quarters
        yield f"as far as {place_words(last, lick.meter)}"


def _events(lick: Lick, notes: Sequence[Note]) -> list[list[_Event]]:
    """Strikes and silences of each bar; a silence that goes over a barline begins anew in the next bar."""
    bars, coming, start, silent = [], iter(notes), Fraction(0), False
    for index, bar in enumerate(lick.bars):
        found: list[_Event] = []
        for moment, group, place in _moments(bar, index, start, lick.slot_quarters):
            if isinstance(moment.event, Strike):
                silent = False
                found.append(_Event(moment, tuple(islice(coming, notes_in(moment.event))), Fraction(0), group, place))
            elif isinstance(moment.event, Rest) or not found and silent:
                if not silent or not found:
                    found.append(_Event(moment, (), Fraction(0), group, place))
                silent = True
        bars.append(found)
        start += bar.slot_count * lick.slot_quarters
    return [_with_changed_holds(lick, index, events) for index, events in enumerate(_with_lengths(bars, lick))]


def _with_changed_holds(lick: Lick, bar_index: int, events: list[_Event]) -> list[_Event]:
    """Holds, and rests in a silence, are no events of their own, but for those that a variant put there."""
    bar = lick.bars[bar_index]
    changed = {slot for number, slot in lick.changed if number == bar.number and not lick.is_new(bar)}
    waiting = changed - {event.moment.slot for event in events}
    if not waiting:
        return events
    start = sum(before.slot_count for before in lick.bars[:bar_index]) * lick.slot_quarters
    holds: list[_Event] = []
    for moment, group, place in _moments(bar, bar_index, start, lick.slot_quarters):
        if moment.slot in waiting and not place:
            before = next((event for event in reversed(events) if event.moment.at < moment.at), None)
            said = moment if before is None or before.notes else replace(moment, event=Rest())
            holds.append(_Event(said, (), Fraction(0), group))
    return sorted(events + holds, key=lambda event: event.moment.at)


def _moments(bar: Bar, bar_index: int, start: Fraction,
             slot_quarters: Fraction) -> Iterator[tuple[Moment, Group | None, int]]:
    """Each with the group it stands in, if any, and its place there from 0."""
    places = [(cell, index) if isinstance(cell, Group) else (None, 0)
              for cell in bar.cells for index in range(len(cell.cells) if isinstance(cell, Group) else 1)]
    for moment, (group, index) in zip(moments_of(bar, bar_index, start, slot_quarters), places, strict=True):
        yield moment, group, index


def _with_lengths(bars: Sequence[Sequence[_Event]], lick: Lick) -> Iterator[list[_Event]]:
    """A strike goes on to the next event, over barlines too; a silence to the next event of its bar."""
    barlines, end = [], Fraction(0)
    for bar in lick.bars:
        end += bar.slot_count * lick.slot_quarters
        barlines.append(end)
    following = end
    backwards: list[list[_Event]] = []
    for events, barline in zip(reversed(bars), reversed(barlines), strict=True):
        timed = []
        for event in reversed(events):
            until = following if event.notes else min(following, barline)
            timed.append(_Event(event.moment, event.notes, until - event.moment.at, event.group, event.index))
            following = event.moment.at
        backwards.append(timed[::-1])
    yield from reversed(backwards)


def _bar_sentences(lick: Lick, bar: Bar, events: Sequence[_Event], start: Fraction,
                   origin: Fraction) -> Iterator[str]:
    """Chords and words above come before what happens with them, or by themselves at their own time."""
    signs = _signs(lick, bar, start)
    if not any(event.notes for event in events):
        yield from (_sign_sentence(lick, sign, origin, sign[0] == start) for sign in signs)
        yield _quiet_bar(events, any(_is_changed(lick, event) for event in events))
        return
    said = None
    for event in events:
        at = event.moment.at
        while signs and signs[0][0] <= at:
            sign = signs.pop(0)
            yield _sign_sentence(lick, sign, origin, sign[0] == at)
        named, said = _label(lick, event, origin, said)
        yield f"{named}: {_event_words(lick, event)}."
    yield from (_sign_sentence(lick, sign, origin, False) for sign in signs)


def _quiet_bar(events: Sequence[_Event], changed: bool) -> str:
    silent = any(event.quarters for event in events)
    return ("Rest for the whole bar" if silent else "Held on through the bar") + CHANGED * changed + "."


def _signs(lick: Lick, bar: Bar, start: Fraction) -> list[tuple[Fraction, str]]:
    """(time, sentence without its stop), in order of time, chords first."""
    chords = [(slot_index, 0, f"chord {chord_words(name)}") for slot_index, name in bar.chords]
    texts = [(slot_index, 1, f"written above, “{text}”") for slot_index, text in bar.texts]
    in_order = sorted(chords + texts, key=lambda sign: sign[:2])
    return [(start + slot_index * lick.slot_quarters, said) for slot_index, _, said in in_order]


def _sign_sentence(lick: Lick, sign: tuple[Fraction, str], origin: Fraction, with_what_follows: bool) -> str:
    at, said = sign
    if with_what_follows:
        return f"{said[0].upper()}{said[1:]}."
    return f"{label(at - origin, lick.meter, None)[0]}: {said}."


def _label(lick: Lick, event: _Event, origin: Fraction, said: int | None) -> tuple[str, int | None]:
    """Where in the bar; and what the next label may lean on.

    That is the beat just said, or minus the slot of the tuplet just said.
    """
    at, group, tuplet_said = event.moment.at - origin, event.group, -event.moment.slot
    tuplet = group_words(group, lick.slot_quarters, lick.meter) if group else ""
    if not tuplet:
        return label(at, lick.meter, said)
    if said == tuplet_said:
        return ordinal(event.index + 1).capitalize(), tuplet_said
    begins = at - event.index * event.moment.share
    place = f", {ordinal(event.index + 1)}" if event.index else ""
    return f"{label(begins, lick.meter, said)[0]}, {tuplet}{place}", tuplet_said


def _event_words(lick: Lick, event: _Event) -> str:
    moment = event.moment
    length = duration_words(event.quarters / lick.meter.beat_quarters)
    if not event.quarters:
        said = "rest" if isinstance(moment.event, Rest) else "held on"
    elif not event.notes:
        said = f"rest for {length}"
    else:
        said = strike_words(moment.event, event.notes)
        if event.quarters > moment.share:
            said += f", held for {length}"
    return said + CHANGED * _is_changed(lick, event)


def _is_changed(lick: Lick, event: _Event) -> bool:
    bar = lick.bars[event.moment.bar_index]
    return (bar.number, event.moment.slot) in lick.changed and not lick.is_new(bar)
