"""Chord names, repeats and endings in words."""

import re
from collections.abc import Iterator, Sequence

from ..model.tab import Bar

ACCIDENTALS = {"": "", "#": " sharp", "♯": " sharp", "b": " flat", "♭": " flat"}
QUALITIES = {
    "": "", "m": " minor", "7": " 7", "m7": " minor 7", "maj7": " major 7", "6": " 6", "m6": " minor 6", "9": " 9",
    "sus2": " suspended 2", "sus4": " suspended 4", "7sus4": " 7 suspended 4", "dim": " diminished",
    "dim7": " diminished 7", "m7b5": " minor 7 flat 5", "aug": " augmented", "add9": " add 9", "5": " 5",
}
TIMES = {2: "twice"}
_CHORD = re.compile(r"([A-G])([#♯b♭]?)([a-z0-9]*)(?:/([A-G])([#♯b♭]?))?\Z")


def chord_words(name: str) -> str:
    """``F#m7/E`` is "F sharp minor 7 over E"; a name that is no chord stays as it is."""
    match = _CHORD.match(name)
    if not match or match[3] not in QUALITIES:
        return name
    bass = f" over {match[4]}{ACCIDENTALS[match[5]]}" if match[4] else ""
    return f"{match[1]}{ACCIDENTALS[match[2]]}{QUALITIES[match[3]]}{bass}"


def repeat_sentences(bars: Sequence[Bar], index: int) -> Iterator[str]:
    """What is said at the start of a bar: how far a repeat goes, which time an ending is for."""
    closing = _closing(bars, index)
    if closing is not None:
        times = bars[closing].repeat_times
        said = TIMES.get(times, f"{times} times")
        yield f"This bar, {said}." if closing == index else f"From here to bar {bars[closing].number}, {said}."
    if bars[index].ending == 1:
        times = next((bar.repeat_times for bar in bars[index:] if bar.repeat_times), 2)
        yield "The first time only." if times == 2 else "Every time but the last."
    elif bars[index].ending:
        yield f"The last time, in place of {_first_ending(bars, index)}."


def turn_words(bars: Sequence[Bar], index: int) -> Iterator[str]:
    """What is said at the end of a bar that goes back."""
    if bars[index].repeat_times:
        beginning = next((begin for begin in range(index, -1, -1) if _closing(bars, begin) == index), index)
        if beginning < index:
            yield f"Back to bar {bars[beginning].number}."


def ending_words(ending: int) -> str:
    return "first ending" if ending == 1 else "second ending"


def _closing(bars: Sequence[Bar], index: int) -> int | None:
    """The bar that closes the repeat beginning at ``index``, None where none begins there.

    It begins at its sign, else behind the repeat before it, else at bar 1.
    """
    begins = (bars[index].opens_repeat or bars[index].number == 1 or index == 0 and bars[0].number > 0
              or index > 0 and bars[index - 1].repeat_times > 0)
    if not begins:
        return None
    for later in range(index, len(bars)):
        if later > index and bars[later].opens_repeat:
            return None
        if bars[later].repeat_times:
            return later
    return None


def _first_ending(bars: Sequence[Bar], index: int) -> str:
    first = max((begin for begin in range(index) if bars[begin].ending == 1), default=index - 1)
    numbers = bars[first].number, bars[index - 1].number
    return f"bar {numbers[0]}" if numbers[0] == numbers[1] else f"bars {numbers[0]} to {numbers[1]}"
