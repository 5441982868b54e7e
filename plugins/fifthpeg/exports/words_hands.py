"""What the hands meet on the way, in words: positions of the left, fingers of the right that pick again."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from ..model.findings import CLASH, Findings, RepeatedFinger
from ..model.hands import FINGER_WORDS, THUMB
from ..model.left_hand import LeftHand, Position
from ..model.note import Note, with_left_fingers
from ..model.tuning import LAST_FRET
from .words_events import Event

BEATS_DIGITS = 1
OWN_FRET = {"1": 0, "2": 1, "3": 2, "4": 3}
"""Frets from the index's: in a position each finger has its own."""
BySlot = dict[tuple[int, int], list[Event]]
"""(bar number, slot from 1) -> the strikes in it."""


@dataclass(frozen=True)
class Remarks:
    """Positions by the mark of the note they are taken up at, repeats by that of the first note of their strike."""

    positions: Mapping[str, Position]
    repeats: Mapping[str, Sequence[RepeatedFinger]]

    def before(self, event: Event) -> list[str]:
        return [f"In {position.name}." for note in event.notes
                if note.start == event.moment.at and (position := self.positions.get(note.mark))]

    def after(self, event: Event) -> list[str]:
        """A hand that moves inside the slot, as a slide takes it along, has moved when the strike has been said."""
        moved = [f"Now in {position.name}." for note in event.notes
                 if note.start > event.moment.at and (position := self.positions.get(note.mark))]
        return moved + [_repeat(repeat) for repeat in self.repeats.get(_mark(event), ())]


def left_as_said(notes: Sequence[Note], findings: Findings | None) -> tuple[Note, ...]:
    """Written left-hand fingers, and chosen ones where the hand takes up a position."""
    told = {(position.bar, position.slot) for position in findings.left.positions} if findings else set()
    known = with_left_fingers(notes, findings.left.fingers) if findings else notes
    return tuple(note if note.left is None or note.left_given or (note.bar, note.slot) in told else
                 replace(note, left=None) for note in known)


def remarks_on(events: Sequence[Sequence[Event]], findings: Findings | None) -> Remarks:
    """Findings tell a slot, no more: where it holds several notes, a position is that of the note whose finger it
    fits best, and the last strike with the finger picks again."""
    if findings is None:
        return Remarks({}, {})
    by_slot: BySlot = defaultdict(list)
    for event in chain.from_iterable(events):
        if event.notes:
            by_slot[event.notes[0].bar, event.notes[0].slot].append(event)
    return Remarks(_positions(by_slot, findings.left), _repeats(by_slot, findings.repeats))


def _positions(by_slot: BySlot, left: LeftHand) -> dict[str, Position]:
    found: dict[str, Position] = {}
    for position in left.positions:
        held = [note for event in by_slot[position.bar, position.slot] for note in event.notes
                if note.mark in left.fingers and note.mark not in found]
        if held:
            found[min(held, key=lambda note: _off(position, note.fret, left.fingers[note.mark])).mark] = position
    return found


def _off(position: Position, fret: int, finger: str) -> int:
    """How many frets from its own fret in the position a finger stands; a thumb may stand anywhere."""
    return abs(fret - position.fret - OWN_FRET[finger]) if finger in OWN_FRET else LAST_FRET


def _repeats(by_slot: BySlot, repeats: Sequence[RepeatedFinger]) -> dict[str, list[RepeatedFinger]]:
    found: dict[str, list[RepeatedFinger]] = defaultdict(list)
    for repeat in reversed(repeats):
        picked = (_mark(event) for event in reversed(by_slot[repeat.bar, repeat.slot])
                  if _picks(event, repeat) and not _told(found[_mark(event)], repeat))
        if (mark := next(picked, None)) is not None:
            found[mark].insert(0, repeat)
    return found


def fingers_pick(fingers: Sequence[str]) -> str:
    """``the thumb picks``, ``the index and middle fingers pick``."""
    named = [FINGER_WORDS[finger] for finger in fingers]
    if len(named) < 2:
        finger = named[0] + ("" if fingers[0] == THUMB else " finger") if named else "one finger"
        return f"{'the ' if named else ''}{finger} picks"
    return "the " + ", ".join(named[:-1]) + f" and {named[-1]}" + (" pick" if THUMB in fingers else " fingers pick")


def beats(tempo: float) -> str:
    """In the lick's own beats: ``195 beats a minute``."""
    return f"{tempo:.{BEATS_DIGITS}f}".removesuffix(".0") + " beats a minute"


def _repeat(repeat: RepeatedFinger) -> str:
    said = fingers_pick(repeat.fingers)
    above = beats(repeat.clashes_above)
    how = f"a clash, as at any tempo above {above}" if repeat.verdict == CLASH else f"tight, a clash above {above}"
    return f"{said[0].upper()}{said[1:]} again here: {how}."


def _picks(event: Event, repeat: RepeatedFinger) -> bool:
    return set(repeat.fingers) <= {note.finger for note in event.notes if note.picked}


def _told(said: Sequence[RepeatedFinger], repeat: RepeatedFinger) -> bool:
    return any(other.fingers == repeat.fingers for other in said)


def _mark(event: Event) -> str:
    return event.notes[0].mark if event.notes else ""
