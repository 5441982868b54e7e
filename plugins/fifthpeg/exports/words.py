"""The tab read aloud, bar by bar and beat by beat, for those who don't read it.

A bar's sentences come in the order of time. A hold is not read by itself: what goes on for
longer than its slot says how long; only a hold that a variant put there is said. Right-hand
fingers chosen by the tool are said like written ones; the left hand's, which nobody asked
for at every note, only where the hand takes up a position.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..model.findings import Findings
from ..model.lick import Lick
from ..model.note import Note
from ..model.tab import Bar, Rest, cell_slots
from .words_events import Event, events_of
from .words_hands import Remarks, left_as_said, remarks_on
from .words_links import link_sentences
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
class _Sign:
    """Sentences, without their capitals and stops, that belong to one moment of a bar."""

    at: Fraction
    says: tuple[str, ...]


def words_text(lick: Lick, notes: Sequence[Note], findings: Findings | None = None) -> str:
    """One bar a line."""
    return "\n".join(bar.text for bar in words(lick, notes, findings)) + "\n"


def words(lick: Lick, notes: Sequence[Note], findings: Findings | None = None) -> tuple[BarWords, ...]:
    """``notes`` are the lick's written notes with fingers filled in. With ``findings`` also what the hands meet:
    positions, fingers that pick again, and the seams of a chain."""
    events = events_of(lick, left_as_said(notes, findings))
    remarks = remarks_on(events, findings)
    links = link_sentences(lick, findings)
    said, start = [], Fraction(0)
    for index, bar in enumerate(lick.bars):
        origin = start - lick.late_start(bar)
        signs = _signs(lick, bar, start, links.get(index, ()))
        sentences = (*repeat_sentences(lick.bars, index),
                     *_bar_sentences(lick, events[index], signs, remarks, start, origin),
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


def _bar_sentences(lick: Lick, events: Sequence[Event], signs: list[_Sign], remarks: Remarks, start: Fraction,
                   origin: Fraction) -> Iterator[str]:
    """Chords and words above come before what happens with them, or by themselves at their own time."""
    if not any(event.notes for event in events):
        for sign in signs:
            yield from _sign_sentences(lick, sign, origin, sign.at == start)
        yield _quiet_bar(events, any(_is_changed(lick, event) for event in events))
        return
    said = None
    for event in events:
        at = event.moment.at
        while signs and signs[0].at <= at:
            sign = signs.pop(0)
            yield from _sign_sentences(lick, sign, origin, sign.at == at)
        yield from remarks.before(event)
        named, said = _label(lick, event, origin, said)
        yield f"{named}: {_event_words(lick, event)}."
        yield from remarks.after(event)
    for sign in signs:
        yield from _sign_sentences(lick, sign, origin, False)


def _quiet_bar(events: Sequence[Event], changed: bool) -> str:
    silent = any(event.quarters for event in events)
    return ("Rest for the whole bar" if silent else "Held on through the bar") + CHANGED * changed + "."


def _signs(lick: Lick, bar: Bar, start: Fraction, links: Sequence[tuple[int, tuple[str, ...]]]) -> list[_Sign]:
    """In order of time; links first, then chords."""
    told = [(slot_index, said) for slot_index, said in links]
    chords = [(slot_index, (f"chord {chord_words(name)}",)) for slot_index, name in bar.chords]
    texts = [(slot_index, (f"written above, “{text}”",)) for slot_index, text in bar.texts]
    in_order = sorted(told + chords + texts, key=lambda sign: sign[0])
    return [_Sign(start + slot_index * lick.slot_quarters, said) for slot_index, said in in_order]


def _sign_sentences(lick: Lick, sign: _Sign, origin: Fraction, with_what_follows: bool) -> Iterator[str]:
    first, *others = sign.says
    if with_what_follows:
        yield f"{first[0].upper()}{first[1:]}."
    else:
        yield f"{label(sign.at - origin, lick.meter, None)[0]}: {first}."
    yield from (f"{other[0].upper()}{other[1:]}." for other in others)


def _label(lick: Lick, event: Event, origin: Fraction, said: int | None) -> tuple[str, int | None]:
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


def _event_words(lick: Lick, event: Event) -> str:
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


def _is_changed(lick: Lick, event: Event) -> bool:
    bar = lick.bars[event.moment.bar_index]
    return (bar.number, event.moment.slot) in lick.changed and not lick.is_new(bar)
