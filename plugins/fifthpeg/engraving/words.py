"""In a few words, for tooltips: a note, a link, a seam, a repeated finger."""

from fractions import Fraction

from ..model.findings import CLEAN, Join, RepeatedFinger
from ..model.hands import FINGER_WORDS, LEFT_FINGER_WORDS
from ..model.note import Note
from .lettering import ELLIPSIS
from .links import LinkStart
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
        said += "" if note.left_given else " (suggested)"
    return said + (", accented" if note.accent and note.picked else "")


def step_words(semitones: Fraction) -> str:
    """How far a choke bends: ``half`` for one semitone."""
    steps = semitones / SEMITONES_IN_STEP
    if steps in _STEPS:
        return _STEPS[steps]
    whole, rest = divmod(steps, 1)
    return f"{whole or ''}{_FRACTIONS.get(rest, f'+{rest}')}"


def link_words(start: LinkStart) -> str:
    """What is written of a link; dots before its name where the drawing opens in its middle."""
    return start.title if start.begins else f"{ELLIPSIS} {start.title}"


def seam_words(start: LinkStart) -> str:
    """``here Sluice tag begins; the seam is clean``."""
    if not start.begins:
        return f"from the middle of {start.title}"
    said = f"here {start.title} begins"
    if start.seam is None:
        return said
    if start.seam.repair:
        said += f"; the seam is repaired: {start.seam.repair.says}"
    elif start.seam.join.verdict == CLEAN:
        said += "; the seam is clean"
    if start.seam.join.verdict != CLEAN:
        said += f"; {picks_again(start.seam.join)}"
    return said + ("" if start.seam.join.has_room else "; its pick-up finds no room before it")


def picks_again(found: RepeatedFinger | Join) -> str:
    """``clash: middle picks twice in a row here, 6.9 a second; a clash above 195``."""
    fingers = " and ".join(FINGER_WORDS[finger] for finger in found.fingers) or "one finger"
    said = f"{found.verdict}: {fingers} {'picks' if len(found.fingers) < 2 else 'pick'} twice in a row here"
    if found.per_second is not None:
        said += f", {found.per_second:.1f} a second"
    return said if found.clashes_above is None else f"{said}; a clash above {found.clashes_above:.0f}"


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
