"""How a source's pitch moves while it plays: slides, chokes, vibrato. Rules P1 to P4 and F2 of ``voices``."""

from collections.abc import Sequence
from math import pi

import numpy as np

from ..model.pitch import SEMITONES_PER_OCTAVE
from ..model.tab import CHOKE
from .frames import Cue, frames_in

QUANTUM = 128
SLIDE_MS, CHOKE_MS = 90, 150
VIBRATO_SEMITONES, VIBRATO_HZ, VIBRATO_DELAY_MS = 0.15, 5.5, 100


def rates(start_frame: int, end_frame: int, source: Sequence[Cue], slide: Cue | None,
          rate_hz: int) -> tuple[tuple[int, float], ...]:
    """(frame, rate) wherever the rate changes; ``slide`` is the arrival that the source slides to, if it does."""
    if not _moves(source, slide):
        return ()
    first_quantum = start_frame // QUANTUM + 1
    frames = np.arange(first_quantum * QUANTUM, end_frame, QUANTUM)
    semitones = _choked(frames, source, rate_hz) + _slid(frames, source, slide, rate_hz)
    semitones += _wobbled(frames, source, rate_hz)
    changed = np.flatnonzero(np.diff(semitones, prepend=0.0))
    stepped = 2 ** (semitones[changed] / SEMITONES_PER_OCTAVE)
    return tuple(zip(frames[changed].tolist(), stepped.tolist(), strict=True))


def _moves(source: Sequence[Cue], slide: Cue | None) -> bool:
    return slide is not None or any(cue.note.bend or cue.note.release or cue.note.vibrato for cue in source)


def _choked(frames: np.ndarray, source: Sequence[Cue], rate_hz: int) -> np.ndarray:
    """Rules P2 and P3."""
    semitones, stands = np.zeros(len(frames)), 0.0
    for cue in source:
        bend, reach = float(cue.note.bend), min(frames_in(CHOKE_MS, rate_hz), cue.written // 3)
        lowers = bend < stands and cue.note.touch == CHOKE and not cue.note.release
        rises = bend > stands
        if rises or lowers:
            _move(semitones, frames, cue.start, reach, stands, bend)
            stands = bend
        if cue.note.release:
            _move(semitones, frames, cue.start + (cue.written // 2 if rises else 0), reach, stands, 0.0)
            stands = 0.0
    return semitones


def _move(semitones: np.ndarray, frames: np.ndarray, start: int, reach: int, here: float, there: float) -> None:
    """From ``start`` on the pitch goes from ``here`` to ``there`` within ``reach`` frames, and stays."""
    later = frames >= start
    share = np.minimum((frames[later] - start) / reach, 1.0) if reach else np.ones(np.count_nonzero(later))
    semitones[later] = here + (there - here) * share * share * (3 - 2 * share)


def _slid(frames: np.ndarray, source: Sequence[Cue], slide: Cue | None, rate_hz: int) -> np.ndarray:
    """Rule P1: frets passed on the way."""
    semitones = np.zeros(len(frames))
    if slide is None or source[0].note.midi is None or slide.note.midi is None:
        return semitones
    distance = slide.note.midi - source[0].note.midi
    count, way = abs(distance), 1 if distance > 0 else -1
    glide = min(frames_in(SLIDE_MS, rate_hz), (slide.start - source[-1].start) // 2)
    for step in range(1, count):
        semitones[frames >= slide.start - glide * (count - step) // count] = way * step
    return semitones


def _wobbled(frames: np.ndarray, source: Sequence[Cue], rate_hz: int) -> np.ndarray:
    """Rule P4."""
    start = next((cue.start + frames_in(VIBRATO_DELAY_MS, rate_hz) for cue in source if cue.note.vibrato), None)
    if start is None:
        return np.zeros(len(frames))
    wobble = VIBRATO_SEMITONES * np.sin(2 * pi * VIBRATO_HZ * (frames - start) / rate_hz)
    return np.where(frames >= start, wobble, 0.0)
