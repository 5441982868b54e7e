"""A note in a few words, for the tooltip on its number."""

from fractions import Fraction

from ..model.hands import FINGER_WORDS, LEFT_FINGER_WORDS
from ..model.note import Note
from .plan import CHOKE

_STEPS = {Fraction(1, 4): "quarter", Fraction(1, 2): "half", Fraction(1): "whole"}
"""Choke in whole steps -> what players call it."""
_FRACTIONS = {Fraction(0): "", Fraction(1, 4): "¼", Fraction(1, 2): "½", Fraction(3, 4): "¾"}
SEMITONES_IN_STEP = 2


def says(note: Note) -> str:
    """``string 3, fret 2, thumb; left ring finger``."""
    said = f"string {note.string}, {_sounded(note)}"
    if note.finger:
        said += f", {FINGER_WORDS[note.finger]}" + ("" if note.given else " (suggested)")
    if note.left:
        said += f"; left {LEFT_FINGER_WORDS[note.left]}" + ("" if note.left == "T" else " finger")
    return said + (", accented" if note.accent and note.picked else "")


def step_words(semitones: Fraction) -> str:
    """How far a choke bends: ``half`` for one semitone."""
    steps = semitones / SEMITONES_IN_STEP
    if steps in _STEPS:
        return _STEPS[steps]
    whole, rest = divmod(steps, 1)
    return f"{whole or ''}{_FRACTIONS.get(rest, f'+{rest}')}"


def _sounded(note: Note) -> str:
    fret = f"fret {note.fret}" if note.fret else "open"
    if note.touch == "damped":
        return "damped"
    if note.touch == CHOKE:
        return f"{fret}, {_bent(note)}"
    arrived = {"slide": "slide to", "hammer-on": "hammer-on to", "pull-off": "pull-off to", "chime": "chime at"}
    said = f"{arrived[note.touch]} {fret}" if note.touch in arrived else fret
    return said + (f", {_bent(note)}" if note.bend else "") + (", vibrato" if note.vibrato else "")


def _bent(note: Note) -> str:
    if not note.bend:
        return "let down"
    words = step_words(note.bend)
    size = f"a {words} step" if words in _STEPS.values() else f"{words} steps"
    return f"choked {size}" + (" and let down" if note.release else "")
