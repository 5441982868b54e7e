"""A repair in a player's words."""

from collections.abc import Iterable, Sequence
from fractions import Fraction

from ..model.hands import the_finger
from ..model.lick import Lick
from ..model.note import Note
from .changes import HOLD, PINCH, SINGLE, THE_THUMB, Change, held_by
from .note_names import shape_pitch_class, spelled


def say(change: Change, lick: Lick, notes: Sequence[Note]) -> str:
    """``notes`` as played, with their fingers, before the change."""
    touched = _once(note for note in notes if note.mark in change.marks)
    if change.name == HOLD:
        return _say_hold(lick, notes, touched)
    if change.name == THE_THUMB:
        (note,) = touched
        return f"pick the last {_name(lick, note)} ({_spot(lick, note)}) with the thumb instead of {the_finger(note.finger)}"
    if change.name == SINGLE:
        return _say_single(change, lick, notes)
    fingers = dict(change.fingers)
    if change.name == PINCH:
        strike = _once(note for note in notes if note.picked and note.strike == touched[0].strike)
        how = _listed([the_finger(fingers.get(note.mark, note.finger)) for note in strike])
        before = _listed([the_finger(note.finger) for note in strike])
        return f"pinch ({_spot(lick, strike[0])}) with {how} instead of {before}"
    return "pick " + _listed([f"the {_name(lick, note)} ({_spot(lick, note)}) with {the_finger(fingers[note.mark])}"
                              for note in touched])


def _say_hold(lick: Lick, notes: Sequence[Note], lost: Sequence[Note]) -> str:
    held = _once(held_by(notes, lost[0]))
    picked = f"the last {_name(lick, lost[0])}" if len(lost) == 1 else "the last pinch"
    how = _listed([the_finger(note.finger) for note in lost])
    return (f"hold the {_listed([_name(lick, note) for note in held])} before instead of picking {picked} "
            f"({_spot(lick, lost[0])}) with {how}")


def _say_single(change: Change, lick: Lick, notes: Sequence[Note]) -> str:
    lost = next(note for note in notes if note.mark in change.lost)
    kept = next(note for note in notes
                if note.picked and note.strike == lost.strike and note.mark not in change.lost)
    finger = dict(change.fingers).get(kept.mark, kept.finger)
    return f"pick the {_name(lick, kept)} ({_spot(lick, kept)}) alone with {the_finger(finger)} in place of the pinch"


def _once(notes: Iterable[Note]) -> list[Note]:
    """The first playing of each written note."""
    return list({note.mark: note for note in reversed(list(notes))}.values())[::-1]


def _name(lick: Lick, note: Note) -> str:
    return "damped string" if note.midi is None else spelled(shape_pitch_class(lick, note.midi), lick.key)


def _spot(lick: Lick, note: Note) -> str:
    """``bar 2, beat 3``, ``bar 2, the and of beat 4``."""
    bar = next(bar for bar in lick.bars if bar.number == note.bar)
    quarters = lick.late_start(bar) + (note.slot - 1 - bar.first_slot_index) * lick.slot_quarters
    beats, share = divmod(quarters / lick.meter.beat_quarters, 1)
    within = f"beat {int(beats) + 1}"
    if share == Fraction(1, 2) and not lick.meter.is_compound:
        within = f"the and of {within}"
    elif share:
        within = f"slot {note.slot}"
    return f"the pick-up, {within}" if note.bar == 0 else f"bar {note.bar}, {within}"


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]
