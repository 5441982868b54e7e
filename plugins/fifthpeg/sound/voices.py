"""Which source plays from which frame to which, how loud, at what rate: the gesture arithmetic.

No samples here. The browser's player follows the same rules, so they are written out.

Frames
  F1  frame_of(q) = floor(q·60·rate/qpm + 1/2) in whole numbers: with q = n/d and qpm = a/b it is
      (120·n·rate·b + d·a) // (2·d·a). A span of m milliseconds is (2·m·rate + 1000) // 2000 frames;
      microseconds likewise.
  F2  A rate changes only at frames that are multiples of QUANTUM, counted from the start of the
      performance: a browser's source reads its rate once every 128 frames. To change it at frame
      f, set it in the middle of the quantum before (frame f − 64).
Sources
  B1  A note's beat is frame_of(start). It starts there, or, where the hand comes to its string
      late_ms after the first of a brush, by so many frames later, but by no more than half its
      written frames, rounded down.
  S1  Notes are taken string by string, in order of start. Each begins a source of its own, its
      bank note from that note's first sample when it starts, except a choke that is not
      picked: it goes on with the string's last source (and is nothing where there is none).
  S2  Gain is the note's own, times ACCENT_GAIN where it is accented. Shade is the note's own, a
      share b: sample i of the source, as read at its rates, becomes (1 − b)·x[i] + b·x[i − s],
      s being SHADE_US microseconds in frames, and x 0 before the source. It makes a note duller
      where b is above 0, brighter where it is below, most of all near 5.5 kHz.
  S3  A source stops at frame_of(rings_until) of its last note, by a straight ramp to 0:
      a. a picked note has its beat there on that string: the ramp of DAMP_MS ends where that
         note starts (but begins no earlier than its source);
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
from dataclasses import dataclass
from fractions import Fraction

from ..model.bank import BankNote, bank_note
from ..model.note import Note
from ..model.performance import Performance
from ..model.tab import CHOKE, SLIDE
from .frames import Cue, cue_of, frame_of, frames_in, frames_in_us
from .pitch_moves import rates

ACCENT_GAIN = 1.4
SHADE_US = 90
"""Half a period of 5.5 kHz."""
DAMP_MS, HAND_OVER_MS, LIFT_MS, RING_OUT_MS = 4, 5, 25, 1000


@dataclass(frozen=True)
class Voice:
    """``sound`` plays from ``start_frame``; at ``ramp_frame`` it starts to fall and is silent from ``end_frame``.

    ``rates`` are (frame, rate), rising; the rate is 1 before the first. ``shade`` and ``shade_frames`` as in rule S2.
    """

    sound: BankNote
    start_frame: int
    ramp_frame: int
    end_frame: int
    gain: float
    rates: tuple[tuple[int, float], ...] = ()
    shade: float = 0.0
    shade_frames: int = 0


def voices(performance: Performance, capo: int, quarters_per_minute: Fraction, rate_hz: int) -> tuple[Voice, ...]:
    """Every source of the performance at one tempo, string by string from the first."""
    end = frame_of(performance.quarters, quarters_per_minute, rate_hz)
    by_string: dict[int, list[Cue]] = {}
    for note in performance.notes:
        by_string.setdefault(note.string, []).append(cue_of(note, quarters_per_minute, rate_hz))
    return tuple(
        _voice(source, arrival, capo, end, rate_hz)
        for string_number in sorted(by_string)
        for source, arrival in _sources(by_string[string_number])
    )


def length_frames(performance: Performance, quarters_per_minute: Fraction, rate_hz: int) -> int:
    """Of the whole recording, ring-out included."""
    return frame_of(performance.quarters, quarters_per_minute, rate_hz) + frames_in(RING_OUT_MS, rate_hz)


def begins_source(note: Note) -> bool:
    """Rule S1: all but a choke of a string that rings."""
    return note.picked or note.touch != CHOKE


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
    meets = following is not None and following.beat == stop
    if meets and following.note.picked:
        end_frame = following.start
        ramp = max(first.start, end_frame - frames_in(DAMP_MS, rate_hz))
    else:
        ramp = stop
        end_frame = stop + frames_in(HAND_OVER_MS if meets else RING_OUT_MS if stop == end else LIFT_MS, rate_hz)
    slide = following if meets and following.note.touch == SLIDE else None
    note = first.note
    return Voice(bank_note(note, capo), first.start, ramp, end_frame,
                 note.gain * ACCENT_GAIN if note.accent else note.gain,
                 rates(first.start, end_frame, source, slide, rate_hz),
                 note.shade, frames_in_us(SHADE_US, rate_hz))
