"""The backing mixed: each stem by itself, from its own sounds, at exact frames.

Conventions as in ``mix``. The frames follow rules F1 and S3 (a, c, d) of ``voices``, so that the browser's player can
play a stem by the arithmetic it has: a note is a picked one on a string of its line.
"""

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from itertools import pairwise

import numpy as np

from ..model.backing import BackingNote, BackingSound, Stem
from ..model.performance import Performance
from .frames import frame_of, frames_in
from .mix import add_voice
from .voices import DAMP_MS, LIFT_MS, RING_OUT_MS, Voice


def backing_sounds_needed(stems: Iterable[Stem]) -> tuple[BackingSound, ...]:
    """Each once, in order."""
    return tuple(sorted({note.sound for stem in stems for note in stem.notes}))


def add_stem(recording: np.ndarray, stem: Stem, performance: Performance, bank: Mapping[BackingSound, np.ndarray],
             quarters_per_minute: Fraction, rate_hz: int) -> np.ndarray:
    """Adds in place to a recording as long as the lick's own mix, and gives it back.

    Raises KeyError for a sound the bank lacks.
    """
    for voice in stem_voices(stem, performance.quarters, quarters_per_minute, rate_hz):
        add_voice(recording, voice, bank[voice.sound])
    return recording


def stem_voices(stem: Stem, quarters: Fraction, quarters_per_minute: Fraction, rate_hz: int) -> tuple[Voice, ...]:
    """Every source of a stem at one tempo, line by line; ``quarters`` is the length of the performance."""
    end = frame_of(quarters, quarters_per_minute, rate_hz)
    lines: dict[int, list[BackingNote]] = {}
    for note in stem.notes:
        lines.setdefault(note.sound.line, []).append(note)
    return tuple(voice for line in sorted(lines) for voice in _line(lines[line], end, quarters_per_minute, rate_hz))


def _line(notes: list[BackingNote], end: int, quarters_per_minute: Fraction, rate_hz: int) -> Iterator[Voice]:
    starts = [frame_of(note.start, quarters_per_minute, rate_hz) for note in notes]
    for note, (start, next_start) in zip(notes, pairwise([*starts, None]), strict=True):
        stop = frame_of(note.until, quarters_per_minute, rate_hz)
        if stop == next_start:
            yield Voice(note.sound, start, max(start, stop - frames_in(DAMP_MS, rate_hz)), stop, 1.0)
        else:
            fall_ms = RING_OUT_MS if stop == end else LIFT_MS
            yield Voice(note.sound, start, stop, stop + frames_in(fall_ms, rate_hz), 1.0)
