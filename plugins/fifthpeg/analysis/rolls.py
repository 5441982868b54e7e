"""Names of the rolls a lick's bars use, from the fingers alone.

Players agree on the finger patterns, not on names or on where a roll begins (common practice, no source). So a bar is named by what
goes round in it: first the rolls with a shape of their own as they are usually begun, then the two that go round and
round, then those with a shape begun elsewhere. (The index-lead roll begun elsewhere is a forward roll: the same
fingers go round.)

A bar is named when it is eight eighths, each picked by one finger, but for some that nobody picks because a note is
held, slid to, or left out. Where fingers are missing all names that they leave possible must be the same one. A
half bar goes by the same rule, for rolls that half a bar can tell.

The other way round, a bar that runs over the strings a roll usually takes leans towards the roll's fingers.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import groupby, pairwise

from ..model.bounce import EIGHTH_QUARTERS
from ..model.findings import Roll
from ..model.hands import REACH, RIGHT_FINGERS
from ..model.lick import Lick
from ..model.note import Note
from .grips import Grip
from .strikes import Picking

EIGHTHS, HALF = 8, 4
MISSING_AT_MOST = {EIGHTHS: 2, HALF: 1}
"""Eighths nobody picks: with more of them a bar is no roll to the ear."""
UNPICKED = "-"
FIXED_ROLLS = {
    "TIMTMITM": "forward-reverse",
    "TITMTITM": "alternating thumb",
    "IMTMTIMT": "index-lead",
}
ROUND_ROLLS = {
    "forward": ("TIM", "TIMTIMTM"),
    "backward": ("MIT", "MITMITMT"),
}
"""Three fingers do not go into eight: a bar breaks off its round where it ends, or has one group of two,
thumb and middle, anywhere in it. It may begin on any finger."""
HALF_ROLLS = {"TITM": "alternating thumb", "IMTM": "index-lead"}
"""The first half of a forward-reverse roll is a forward one, its second a backward one."""

USUAL_FINGERS = {
    "32151231": "TIMTMITM",
    "32514251": "TITMTITM",
    "21215215": "IMTMTIMT",
}
"""Strings of eight eighths -> the fingers of the roll that usually takes them; common practice, no source."""
ROUND = 3
OFF_THE_ROLL = 1


def usual_fingers(pickings: Sequence[Picking]) -> list[str | None]:
    """For each strike the finger of the roll its bar follows, string for string; None where it follows none, or where
    a written finger says otherwise."""
    found: list[str | None] = []
    for _, group in groupby(pickings, key=lambda picking: picking.bar):
        in_bar = list(group)
        fingers = fingers_over(_strings(in_bar))
        follows = fingers and all(picking.fingers[0] in (None, finger)
                                  for picking, finger in zip(in_bar, fingers, strict=True))
        found += fingers if follows else [None] * len(in_bar)
    return found


def fingers_over(strings: str) -> str:
    """The fingers of a roll over eight strings such as ``"21521521"``; empty where they are no roll's.

    Round and round three strings goes a forward or a backward roll, the thumb on the one nearest to the short string.
    """
    once = sorted(strings[:ROUND], reverse=True)
    if len(set(once)) < ROUND or strings != (strings[:ROUND] * ROUND)[:EIGHTHS]:
        return USUAL_FINGERS.get(strings, "")
    fingers = dict(zip(once, RIGHT_FINGERS, strict=True))
    in_reach = all(int(string) in REACH[finger] for string, finger in fingers.items())
    return "".join(fingers[string] for string in strings) if in_reach else ""


def leaning(grips: tuple[Grip, ...], finger: str | None) -> tuple[Grip, ...]:
    """On the roll a finger is at home, wherever it picks; off it each way costs a little more."""
    if finger is None:
        return grips
    return tuple(replace(grip, discomfort=0 if grip.fingers == (finger,) else grip.discomfort + OFF_THE_ROLL)
                 for grip in grips)


def _strings(in_bar: Sequence[Picking]) -> str:
    """Empty for anything but single strings in a row of eighths."""
    if len(in_bar) != EIGHTHS or any(len(picking.strings) > 1 for picking in in_bar):
        return ""
    if any(later.straight - earlier.straight != EIGHTH_QUARTERS for earlier, later in pairwise(in_bar)):
        return ""
    return "".join(str(picking.strings[0]) for picking in in_bar)


def name_rolls(lick: Lick, notes: Sequence[Note], fingers: Mapping[str, str]) -> tuple[Roll, ...]:
    """The rolls that fill a bar. ``notes`` as written; ``fingers`` maps the mark of every pluck to its finger."""
    named = ((bar, roll_name(pattern)) for bar, pattern in _patterns(lick, notes, fingers).items())
    return tuple(Roll(bar, name) for bar, name in named if name)


def name_half_rolls(lick: Lick, notes: Sequence[Note], fingers: Mapping[str, str]) -> tuple[Roll, ...]:
    """The rolls of half bars, in bars that have none as a whole."""
    halves = ((bar, number, half_roll_name(half)) for bar, pattern in _patterns(lick, notes, fingers).items()
              if not roll_name(pattern) for number, half in enumerate((pattern[:HALF], pattern[HALF:]), start=1))
    return tuple(Roll(bar, name, number) for bar, number, name in halves if name)


def roll_name(pattern: str) -> str | None:
    """The roll of eight fingers such as ``"TIMTIMTM"``, ``-`` where nobody picks; None when none is known."""
    return _name(pattern, EIGHTHS, _NAMES)


def half_roll_name(pattern: str) -> str | None:
    """The same for four fingers such as ``"TIMT"``."""
    return _name(pattern, HALF, _HALF_NAMES)


def _name(pattern: str, length: int, names: Mapping[str, str]) -> str | None:
    missing = pattern.count(UNPICKED)
    if len(pattern) != length or missing > MISSING_AT_MOST[length]:
        return None
    if not missing:
        return names.get(pattern)
    possible = {name for known, name in names.items()
                if all(finger in (UNPICKED, here) for finger, here in zip(pattern, known, strict=True))}
    return possible.pop() if len(possible) == 1 else None


def _windows(once: str, length: int) -> list[str]:
    """What going round and round ``once`` gives in so many eighths, from each start."""
    return [(once * length)[start:start + length] for start in range(len(once))]


def _known() -> dict[str, str]:
    names = dict(FIXED_ROLLS)
    for name, rounds in ROUND_ROLLS.items():
        for once in rounds:
            for pattern in _windows(once, EIGHTHS):
                names.setdefault(pattern, name)
    for once, name in FIXED_ROLLS.items():
        for pattern in _windows(once, EIGHTHS):
            names.setdefault(pattern, name)
    return names


_NAMES = _known()
_HALF_NAMES = HALF_ROLLS | {pattern: name for name, rounds in ROUND_ROLLS.items()
                            for pattern in _windows(rounds[0], HALF)}


def _patterns(lick: Lick, notes: Sequence[Note], fingers: Mapping[str, str]) -> dict[int, str]:
    """Bar number -> the fingers of its eight eighths; none for bars of another length or with other picks in them."""
    starts, start = {}, Fraction(0)
    for bar in lick.bars:
        if bar.slot_count * lick.slot_quarters == EIGHTHS * EIGHTH_QUARTERS and not lick.is_cut(bar):
            starts[bar.number] = start
        start += bar.slot_count * lick.slot_quarters
    patterns = {}
    for number, in_bar in groupby((note for note in notes if note.picked), key=lambda note: note.bar):
        if number in starts:
            patterns[number] = _pattern(list(in_bar), starts[number], fingers)
    return {number: pattern for number, pattern in patterns.items() if pattern}


def _pattern(in_bar: Sequence[Note], start: Fraction, fingers: Mapping[str, str]) -> str:
    """Empty where two notes are picked at once, or one between the eighths."""
    eighths = [UNPICKED] * EIGHTHS
    for note in in_bar:
        place = (note.start - start) / EIGHTH_QUARTERS
        if place.denominator != 1 or eighths[int(place)] != UNPICKED:
            return ""
        eighths[int(place)] = fingers.get(note.mark, "?")
    return "".join(eighths)
