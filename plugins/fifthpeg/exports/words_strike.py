"""One strike in words: which finger, which string, which fret, and what happens to the string."""

from collections.abc import Sequence
from fractions import Fraction

from ..model.hands import FINGER_WORDS, LEFT_FINGER_WORDS
from ..model.note import Note
from ..model.tab import CHOKE, Pluck, Strike

STEPS = {
    Fraction(1, 2): "a quarter step", Fraction(1): "a half step", Fraction(3, 2): "three quarters of a step",
    Fraction(2): "a whole step", Fraction(5, 2): "a step and a quarter", Fraction(3): "a step and a half",
    Fraction(7, 2): "a step and three quarters", Fraction(4): "two steps",
}
"""Semitones a choke bends -> what players call it."""
FEWEST_IN_BRUSH = 3


def strike_words(strike: Strike, notes: Sequence[Note]) -> str:
    """``notes`` are the strike's: each pluck with its arrivals, then the landings."""
    plucked, position = [], 0
    for pluck in strike.plucks:
        plucked.append((pluck, notes[position:position + 1 + len(pluck.arrivals)]))
        position += 1 + len(pluck.arrivals)
    landed = [_landing(note) for note in notes[position:]]
    picked = _together(plucked) if plucked else ""
    said = ", with ".join(filter(None, (picked, _listed(landed))))
    return said + (", accented" if any(note.accent for note in notes) else "")


def _together(plucked: Sequence[tuple[Pluck, Sequence[Note]]]) -> str:
    """A single pluck, a pinch, or one finger brushing over three strings and more."""
    if len(plucked) == 1:
        finger, place = _finger(plucked[0][1][0]), _place(*plucked[0])
        return f"{finger}, {place}" if finger else place
    fingers = {notes[0].finger for _, notes in plucked}
    if len(fingers) == 1 and None not in fingers and len(plucked) >= FEWEST_IN_BRUSH:
        return f"brush with the {_finger(plucked[0][1][0])}, " + _listed([_place(*each) for each in plucked])
    parts = [f"{finger} on {_place(pluck, notes)}" if (finger := _finger(notes[0])) else _place(pluck, notes)
             for pluck, notes in plucked]
    return "pinch, " + _listed(parts)


def _place(pluck: Pluck, notes: Sequence[Note]) -> str:
    """String, fret, left hand, and the arrivals inside the slot."""
    first, arrivals = notes[0], notes[1:]
    said = [f"{_string(first)}{_left(first)}{_shaped(first)}", *(_arrival(note) for note in arrivals)]
    return ", ".join(said) + (", carried over from before" if pluck.carried else "")


def _string(note: Note) -> str:
    if note.touch == "damped":
        return f"string {note.string}, damped"
    if note.touch == "chime":
        return f"string {note.string}, chime at fret {note.fret}"
    return f"string {note.string}, fret {note.fret}" if note.fret else f"string {note.string} open"


def _arrival(note: Note) -> str:
    return f"{note.touch} to {_fret(note)}{_left(note)}{_shaped(note)}"


def _landing(note: Note) -> str:
    """An arrival at a time of its own is said like a pluck, its touch in place of the finger."""
    if note.touch == CHOKE:
        return (f"let string {note.string} down" if note.release else
                f"choke string {note.string} up {_steps(note.bend)}")
    return f"{note.touch}, {_string(note)}{_left(note)}"


def _fret(note: Note) -> str:
    return f"fret {note.fret}" if note.fret else "open"


def _left(note: Note) -> str:
    return f", left {LEFT_FINGER_WORDS[note.left]}" if note.left else ""


def _shaped(note: Note) -> str:
    """Choke and vibrato."""
    choked = f", choke up {_steps(note.bend)}" + (" and let down" if note.release else "") if note.bend else ""
    return choked + (", with vibrato" if note.vibrato else "")


def _steps(semitones: Fraction) -> str:
    return STEPS.get(semitones, f"{float(semitones):g} half steps")


def _finger(note: Note) -> str:
    return FINGER_WORDS[note.finger] if note.finger else ""


def _listed(parts: Sequence[str]) -> str:
    return parts[0] if len(parts) == 1 else ", ".join(parts[:-1]) + " and " + parts[-1] if parts else ""
