"""Which source plays from which frame to which, how loud, at what rate: the gesture arithmetic.

No samples here. The browser's player follows the same rules, so they are written out.

Frames
  F1  frame_of(q) = floor(q·60·rate/qpm + 1/2) in whole numbers: with q = n/d and qpm = a/b it is
      (120·n·rate·b + d·a) // (2·d·a). A span of m milliseconds is (2·m·rate + 1000) // 2000 frames.
  F2  A rate changes only at frames that are multiples of QUANTUM, counted from the start of the
      performance: a browser's source reads its rate once every 128 frames. To change it at frame
      f, set it in the middle of the quantum before (frame f − 64).
Sources
  S1  Notes are taken string by string, in order of start. Each begins a source of its own, its
      bank note from that note's first sample at frame_of(start), except a choke that is not
      picked: it goes on with the string's last source (and is nothing where there is none).
  S2  Gain is 1, or ACCENT_GAIN where the note is accented.
  S3  A source stops at frame_of(rings_until) of its last note, by a straight ramp to 0:
      a. a picked note starts its own source there on that string: the ramp of DAMP_MS ends there
         (but begins no earlier than its source);
      b. an arrival does: a ramp of HAND_OVER_MS begins there;
      c. the performance ends there: a ramp of RING_OUT_MS begins there;
      d. otherwise the finger leaves the string: a ramp of LIFT_MS begins there.
Pitch, in semitones above the source's own, read at every multiple of QUANTUM after its start and
before its end; rate = 2^(semitones/12)
  P1  Slide: case b by a slide, n semitones away. The slide takes g = min(SLIDE_MS, half, rounded
      down, of the frames since the string's last note began); semitone j of 1 … n − 1 is passed
      at frame (arrival − g·(n − j) // n). The arrival's own bank note is the n-th.
  P2  Choke: from the note's start the pitch goes from where it stands to ``bend`` in
      r = min(CHOKE_MS, a third, rounded down, of the note's written frames), along u²·(3 − 2u).
  P3  Release: back to 0 in the same r, from half the written frames (rounded down) after the
      note's start; from its start where the string already stands at ``bend`` or above.
  P4  Vibrato: VIBRATO_SEMITONES·sin(2π·VIBRATO_HZ·t) is added, t in seconds from VIBRATO_DELAY_MS
      after the note's start, until the source ends.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import pi

import numpy as np

from ..model.bank import BankNote, bank_note
from ..model.note import Note
from ..model.performance import Performance
from ..model.pitch import SEMITONES_PER_OCTAVE
from ..model.tab import CHOKE, SLIDE

QUANTUM = 128
ACCENT_GAIN = 1.4
DAMP_MS, HAND_OVER_MS, LIFT_MS, RING_OUT_MS = 4, 5, 25, 1000
SLIDE_MS, CHOKE_MS = 90, 150
VIBRATO_SEMITONES, VIBRATO_HZ, VIBRATO_DELAY_MS = 0.15, 5.5, 100


@dataclass(frozen=True)
class Voice:
    """``sound`` plays from ``start_frame``; at ``ramp_frame`` it starts to fall and is silent from ``end_frame``.

    ``rates`` are (frame, rate), rising; the rate is 1 before the first.
    """

    sound: BankNote
    start_frame: int
    ramp_frame: int
    end_frame: int
    gain: float
    rates: tuple[tuple[int, float], ...] = ()


@dataclass(frozen=True)
class Cue:
    """A note with its frames; ``until`` is rings_until, ``written`` the length as written."""

    note: Note
    start: int
    until: int
    written: int


def voices(performance: Performance, capo: int, quarters_per_minute: Fraction, rate_hz: int) -> tuple[Voice, ...]:
    """Every source of the performance at one tempo, string by string from the first."""
    end = frame_of(performance.quarters, quarters_per_minute, rate_hz)
    by_string: dict[int, list[Cue]] = {}
    for note in performance.notes:
        by_string.setdefault(note.string, []).append(_cue(note, quarters_per_minute, rate_hz))
    return tuple(
        _voice(source, arrival, capo, end, rate_hz)
        for string_number in sorted(by_string)
        for source, arrival in _sources(by_string[string_number])
    )


def length_frames(performance: Performance, quarters_per_minute: Fraction, rate_hz: int) -> int:
    """Of the whole recording, ring-out included."""
    return frame_of(performance.quarters, quarters_per_minute, rate_hz) + frames_in(RING_OUT_MS, rate_hz)


def frame_of(quarters: Fraction, quarters_per_minute: Fraction, rate_hz: int) -> int:
    """Rule F1: the nearest frame, halves upwards, exactly."""
    ticks = quarters.denominator * quarters_per_minute.numerator
    return (120 * quarters.numerator * rate_hz * quarters_per_minute.denominator + ticks) // (2 * ticks)


def frames_in(milliseconds: int, rate_hz: int) -> int:
    return (2 * milliseconds * rate_hz + 1000) // 2000


def begins_source(note: Note) -> bool:
    """Rule S1: all but a choke of a string that rings."""
    return note.picked or note.touch != CHOKE


def _cue(note: Note, quarters_per_minute: Fraction, rate_hz: int) -> Cue:
    start, until, written_end = (
        frame_of(time, quarters_per_minute, rate_hz)
        for time in (note.start, note.rings_until, note.start + note.length)
    )
    return Cue(note, start, until, written_end - start)


def _sources(cues: Sequence[Cue]) -> Iterator[tuple[list[Cue], Cue | None]]:
    """(the notes one source plays, the note whose source comes next), rule S1."""
    source: list[Cue] = []
    for cue in cues:
        if begins_source(cue.note):
            if source:
                yield source, cue
            source = [cue]
        elif source:
            source.append(cue)
    if source:
        yield source, None


def _voice(source: list[Cue], following: Cue | None, capo: int, end: int, rate_hz: int) -> Voice:
    first, stop = source[0], source[-1].until
    meets = following is not None and following.start == stop
    if meets and following.note.picked:
        ramp = max(first.start, stop - frames_in(DAMP_MS, rate_hz))
        end_frame = stop
    else:
        ramp = stop
        end_frame = stop + frames_in(HAND_OVER_MS if meets else RING_OUT_MS if stop == end else LIFT_MS, rate_hz)
    voice = Voice(bank_note(first.note, capo), first.start, ramp, end_frame,
                  ACCENT_GAIN if first.note.accent else 1.0)
    slide = following if meets and following.note.touch == SLIDE else None
    return replace(voice, rates=_rates(voice, source, slide, rate_hz)) if _moves_pitch(source, slide) else voice


def _rates(voice: Voice, source: list[Cue], slide: Cue | None, rate_hz: int) -> tuple[tuple[int, float], ...]:
    """(frame, rate) wherever the rate changes."""
    first_quantum = voice.start_frame // QUANTUM + 1
    frames = np.arange(first_quantum * QUANTUM, voice.end_frame, QUANTUM)
    semitones = _choked(frames, source, rate_hz) + _slid(frames, source, slide, rate_hz)
    semitones += _wobbled(frames, source, rate_hz)
    changed = np.flatnonzero(np.diff(semitones, prepend=0.0))
    rates = 2 ** (semitones[changed] / SEMITONES_PER_OCTAVE)
    return tuple(zip(frames[changed].tolist(), rates.tolist(), strict=True))


def _moves_pitch(source: list[Cue], slide: Cue | None) -> bool:
    return slide is not None or any(cue.note.bend or cue.note.release or cue.note.vibrato for cue in source)


def _choked(frames: np.ndarray, source: list[Cue], rate_hz: int) -> np.ndarray:
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
    share = np.minimum((frames[later] - start) / max(reach, 1), 1.0)
    semitones[later] = here + (there - here) * share * share * (3 - 2 * share)


def _slid(frames: np.ndarray, source: list[Cue], slide: Cue | None, rate_hz: int) -> np.ndarray:
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


def _wobbled(frames: np.ndarray, source: list[Cue], rate_hz: int) -> np.ndarray:
    """Rule P4."""
    start = next((cue.start + frames_in(VIBRATO_DELAY_MS, rate_hz) for cue in source if cue.note.vibrato), None)
    if start is None:
        return np.zeros(len(frames))
    wobble = VIBRATO_SEMITONES * np.sin(2 * pi * VIBRATO_HZ * (frames - start) / rate_hz)
    return np.where(frames >= start, wobble, 0.0)
