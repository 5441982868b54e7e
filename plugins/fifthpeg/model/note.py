"""Single sounded notes of a lick, in order, with exact times.

Times are quarter notes from the start of the lick (pick-up included), as fractions.
``mark`` names a written note ("p1", "p2", … in written order); a repeat plays the same
mark again, so that a drawing made from the same lick can light it up.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from .lick import Lick
from .tab import CHOKE, RELEASE, Bar, Group, Landing, Pluck, Rest, Strike
from .tuning import SHORT_STRING, short_string_stop

FRETTED_RING_BEATS = 2
"""A fretted note rings on so many beats past its written length; the finger leaves it then."""


@dataclass(frozen=True)
class Note:
    """``slot`` counts from 1 in its bar. ``length`` is as written; ``rings_until`` is when the
    string is stopped: by its next pluck, by a rest, or by the finger leaving it.

    ``touch``: pick, slide, hammer-on, pull-off, choke, chime, damped. An arrival has
    ``picked`` False, no finger, and ``source``, the mark of the note it comes from.
    ``partial`` is the one of the open string that a chime sounds, 1 for any other note. ``bend`` is in semitones;
    ``release`` lets it down again. A ``carried`` note is picked only because a showing left out the note that it is
    reached from. ``left_given`` is False where the tool chose the left hand's finger. ``gain`` (linear), ``shade``
    (duller above 0, brighter below) and ``late_ms`` are how the hand plays it, set by ``sound.hand``.
    """

    mark: str
    strike: int
    bar: int
    slot: int
    string: int
    fret: int
    midi: int | None
    start: Fraction
    length: Fraction
    rings_until: Fraction
    touch: str = "pick"
    picked: bool = True
    finger: str | None = None
    given: bool = False
    left: str | None = None
    left_given: bool = True
    from_fret: int | None = None
    from_midi: int | None = None
    source: str | None = None
    accent: bool = False
    vibrato: bool = False
    bend: Fraction = Fraction(0)
    release: bool = False
    carried: bool = False
    partial: int = 1
    passage: int = 1
    link: int = 0
    gain: float = 1.0
    shade: float = 0.0
    late_ms: int = 0


@dataclass(frozen=True)
class Moment:
    """One cell that is not a group, placed: ``share`` is the time it owns, in quarters."""

    event: object
    at: Fraction
    share: Fraction
    bar_index: int
    slot: int
    accent: bool = False


def written_notes(lick: Lick) -> tuple[Note, ...]:
    """Every note once, in written order, without repeats and without bounce."""
    return notes_through(lick, range(len(lick.bars)))


def notes_through(lick: Lick, bar_indices: Sequence[int]) -> tuple[Note, ...]:
    """The notes of ``lick.bars`` played in the order of ``bar_indices``, straight."""
    return _Walk(lick).through(bar_indices)


def with_fingers(notes: Sequence[Note], chosen: Mapping[str, str]) -> tuple[Note, ...]:
    """The notes with the fingers chosen for marks whose writer gave none."""
    return tuple(
        replace(note, finger=chosen[note.mark]) if note.picked and not note.given and note.mark in chosen else note
        for note in notes
    )


def with_left_fingers(notes: Sequence[Note], chosen: Mapping[str, str]) -> tuple[Note, ...]:
    """The notes with the left hand's fingers chosen for marks whose writer gave none."""
    return tuple(replace(note, left=chosen[note.mark], left_given=False)
                 if note.left is None and note.mark in chosen else note for note in notes)


def fingers_from(whole: Sequence[Note], part: Sequence[Note]) -> dict[str, str]:
    """Mark -> finger for the plucks of ``part`` that have none, as the same notes of the ``whole`` lick have it.

    An arrival that ``part`` has to pick takes the finger that picked the note it comes from.
    """
    picked_by: dict[str | None, str | None] = {}
    known: dict[tuple[int, int, int], list[str | None]] = {}
    for note in whole:
        picked_by[note.mark] = note.finger if note.picked else picked_by.get(note.source)
        known.setdefault((note.bar, note.slot, note.string), []).append(picked_by[note.mark])
    waiting = {place: iter(fingers) for place, fingers in known.items()}
    found = {}
    for note in part:
        finger = next(waiting.get((note.bar, note.slot, note.string), iter(())), None)
        if finger and note.picked and not note.finger:
            found[note.mark] = finger
    return found


def moments_of(bar: Bar, bar_index: int, bar_start: Fraction, slot_quarters: Fraction) -> Iterator[Moment]:
    """A bar's cells with groups opened, each at its own time."""
    for slot_index, cell in bar.placed_cells():
        at = bar_start + slot_index * slot_quarters
        slot = bar.first_slot_index + slot_index + 1
        if isinstance(cell, Group):
            share = cell.slots * slot_quarters / len(cell.cells)
            for index, inner in enumerate(cell.cells):
                yield Moment(inner, at + index * share, share, bar_index, slot, cell.accent)
        else:
            yield Moment(cell, at, slot_quarters, bar_index, slot)


def notes_in(event: object) -> int:
    """How many notes one cell sounds."""
    if isinstance(event, Group):
        return sum(notes_in(inner) for inner in event.cells)
    if isinstance(event, Strike):
        return len(event.landings) + sum(1 + len(pluck.arrivals) for pluck in event.plucks)
    return 0


class _Walk:
    """One pass over the bars. ``latest`` is the newest note on each string, by its position.

    Notes are kept as their fields while lengths and ringing are still open: a frozen note
    made anew for every change took most of the time.
    """

    def __init__(self, lick: Lick):
        self.lick = lick
        self.drafts: list[dict] = []
        self.open: set[int] = set()
        self.latest: dict[int, int] = {}
        self.strike = 0
        self.mark_number = 0
        counts = [sum(notes_in(cell) for cell in bar.cells) for bar in lick.bars]
        self.first_mark = [1 + sum(counts[:index]) for index in range(len(counts))]
        self.ring = FRETTED_RING_BEATS * lick.meter.beat_quarters

    def through(self, bar_indices: Sequence[int]) -> tuple[Note, ...]:
        time = Fraction(0)
        for bar_index in bar_indices:
            bar = self.lick.bars[bar_index]
            self.mark_number = self.first_mark[bar_index]
            for moment in moments_of(bar, bar_index, time, self.lick.slot_quarters):
                self.meet(moment)
            time += bar.slot_count * self.lick.slot_quarters
        self.cut_lengths(set(self.open), time)
        for string_number in list(self.latest):
            self.stop_string(string_number, time)
        return tuple(Note(**draft) for draft in self.drafts)

    def meet(self, moment: Moment) -> None:
        if isinstance(moment.event, Rest):
            self.cut_lengths(set(self.open), moment.at)
            for string_number in list(self.latest):
                self.stop_string(string_number, moment.at)
        elif isinstance(moment.event, Strike):
            self.sound(moment, moment.event)

    def sound(self, moment: Moment, strike: Strike) -> None:
        if strike.plucks:
            landed = {landing.string for landing in strike.landings}
            self.cut_lengths({i for i in self.open if self.drafts[i]["string"] not in landed}, moment.at)
            self.strike += 1
        for pluck in strike.plucks:
            self.pluck(moment, strike, pluck)
        for landing in strike.landings:
            self.land(moment, strike, landing)

    def pluck(self, moment: Moment, strike: Strike, pluck: Pluck) -> None:
        touch = "damped" if pluck.damped else "chime" if pluck.chime else "pick"
        self.add(moment, strike, pluck.string, moment.at, fret=pluck.fret, touch=touch, left=pluck.left,
                 finger=pluck.finger, given=pluck.finger is not None and not pluck.chosen, carried=pluck.carried)
        for index, arrival in enumerate(pluck.arrivals, start=1):
            self.arrive(moment, strike, pluck.string, moment.at + index * moment.share / (len(pluck.arrivals) + 1),
                        fret=arrival.fret, touch=arrival.touch, left=arrival.left)
        last = self.drafts[-1]
        last |= {"bend": pluck.choke_semitones, "release": pluck.release, "vibrato": pluck.vibrato}
        if pluck.choke_semitones and not pluck.arrivals:
            last["touch"] = CHOKE

    def land(self, moment: Moment, strike: Strike, landing: Landing) -> None:
        let_down = landing.touch == RELEASE
        self.arrive(moment, strike, landing.string, moment.at, fret=landing.fret, left=landing.left,
                    touch=CHOKE if let_down else landing.touch, bend=landing.semitones, release=let_down)

    def arrive(self, moment: Moment, strike: Strike, string_number: int, at: Fraction, **fields) -> None:
        before = self.latest.get(string_number)
        if before is not None:
            held = self.drafts[before]
            fields |= {"from_fret": held["fret"], "from_midi": held["midi"], "source": held["mark"]}
        self.add(moment, strike, string_number, at, picked=False, **fields)

    def add(self, moment: Moment, strike: Strike, string_number: int, at: Fraction, **fields) -> None:
        self.cut_lengths({i for i in self.open if self.drafts[i]["string"] == string_number}, at)
        self.stop_string(string_number, at)
        midi = None if fields["touch"] == "damped" else self.midi_of(string_number, fields["fret"], fields["touch"])
        self.drafts.append({
            "mark": f"p{self.mark_number}", "strike": max(self.strike, 1),
            "bar": self.lick.bars[moment.bar_index].number, "slot": moment.slot, "string": string_number,
            "midi": midi, "start": at, "length": Fraction(0), "rings_until": at,
            "accent": strike.accent or moment.accent, **self.chimed(string_number, fields), **fields})
        self.mark_number += 1
        self.open.add(len(self.drafts) - 1)
        self.latest[string_number] = len(self.drafts) - 1

    def midi_of(self, string_number: int, fret: int, touch: str) -> int:
        if touch == "chime":
            return chime_midi(self.lick, string_number, fret)
        return self.lick.midi(string_number, fret)

    def chimed(self, string_number: int, fields: Mapping) -> dict:
        if fields["touch"] != "chime":
            return {}
        return {"partial": CHIME_PARTIALS[chime_semitones(self.lick, string_number, fields["fret"])]}

    def cut_lengths(self, positions: set[int], at: Fraction) -> None:
        for position in positions:
            draft = self.drafts[position]
            draft["length"] = at - draft["start"]
        self.open -= positions

    def stop_string(self, string_number: int, at: Fraction) -> None:
        position = self.latest.pop(string_number, None)
        if position is None:
            return
        draft = self.drafts[position]
        damped = draft["touch"] == "damped"
        draft["rings_until"] = at
        if position not in self.open and (damped or draft["fret"] > 0 and draft["touch"] != "chime"):
            written_end = draft["start"] + draft["length"]
            draft["rings_until"] = min(at, written_end if damped else written_end + self.ring)


CHIME_NODES = {12: 12, 7: 19, 19: 19, 5: 24, 24: 24, 4: 28, 9: 28, 16: 28}
"""Fret a natural harmonic is touched at -> semitones it sounds above the open string (partials 2, 3, 4, 5)."""


CHIME_PARTIALS = {12: 2, 19: 3, 24: 4, 28: 5}
"""Semitones above the open string -> which of its partials that is."""


def chime_midi(lick: Lick, string_number: int, node: int) -> int:
    """What a chime sounds, to the nearest semitone."""
    return lick.midi(string_number, 0) + chime_semitones(lick, string_number, node)


def chime_semitones(lick: Lick, string_number: int, node: int) -> int:
    """Above the open string; the short string's nodes are counted from its own nut or spike."""
    if string_number == SHORT_STRING:
        node -= short_string_stop(lick.capo, lick.fifth) - lick.capo
    return CHIME_NODES[node]
