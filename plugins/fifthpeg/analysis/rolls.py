"""Names of the rolls a lick's bars use, from the fingers alone.

Public teaching pages agree on the finger patterns, not on names or on where a roll begins:
the rolls with a fixed shape are tried first, then the two that go round and round.
A bar is named when it is eight eighths, each picked by one finger; else it has no name.
"""

from collections.abc import Mapping, Sequence
from itertools import groupby

from ..model.bounce import EIGHTH_QUARTERS
from ..model.findings import Roll
from ..model.lick import Lick
from ..model.note import Note

EIGHTHS = 8
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


def name_rolls(lick: Lick, notes: Sequence[Note], fingers: Mapping[str, str]) -> tuple[Roll, ...]:
    """``notes`` as written; ``fingers`` maps the mark of every pluck to its finger."""
    whole = {bar.number for bar in lick.bars
             if bar.slot_count * lick.slot_quarters == EIGHTHS * EIGHTH_QUARTERS and not lick.is_cut(bar)}
    named = []
    for bar, in_bar in groupby((note for note in notes if note.picked), key=lambda note: note.bar):
        name = roll_name(_pattern(list(in_bar), fingers))
        if name and bar in whole:
            named.append(Roll(bar, name))
    return tuple(named)


def roll_name(pattern: str) -> str | None:
    """The roll of eight fingers such as ``"TIMTIMTM"``; None when it is none of those known."""
    return FIXED_ROLLS.get(pattern) or _ROUND_NAMES.get(pattern)


def _from_any_start(once: str) -> list[str]:
    """The bars that going round and round ``once`` gives."""
    return [(once * EIGHTHS)[start:start + EIGHTHS] for start in range(len(once))]


_ROUND_NAMES = {bar: name for name, rounds in ROUND_ROLLS.items() for once in rounds for bar in _from_any_start(once)}


def _pattern(in_bar: Sequence[Note], fingers: Mapping[str, str]) -> str:
    """The fingers of a bar's eighths; empty when the bar is not eight single eighths."""
    starts = [note.start for note in in_bar]
    steps = {after - before for before, after in zip(starts, starts[1:], strict=False)}
    if len(in_bar) != EIGHTHS or steps != {EIGHTH_QUARTERS}:
        return ""
    return "".join(fingers.get(note.mark, "?") for note in in_bar)
