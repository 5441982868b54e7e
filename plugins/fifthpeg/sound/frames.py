"""Exact time to frames: rule F1 of ``voices``, shared with the browser's player."""

from dataclasses import dataclass
from fractions import Fraction

from ..model.note import Note


@dataclass(frozen=True)
class Cue:
    """A note with its frames; ``beat`` is its moment in the score, ``start`` when its string is met, rule B1.

    ``until`` is rings_until, ``written`` the length as written.
    """

    note: Note
    beat: int
    start: int
    until: int
    written: int


def frame_of(quarters: Fraction, quarters_per_minute: Fraction, rate_hz: int) -> int:
    """Rule F1: the nearest frame, halves upwards, exactly."""
    return _frame(*quarters.as_integer_ratio(), *quarters_per_minute.as_integer_ratio(), rate_hz)


def _frame(n: int, d: int, a: int, b: int, rate_hz: int) -> int:
    """Of n/d quarters at a/b quarters a minute; neither need be in lowest terms."""
    ticks = d * a
    return (120 * n * rate_hz * b + ticks) // (2 * ticks)


def frames_in(milliseconds: int, rate_hz: int) -> int:
    return (2 * milliseconds * rate_hz + 1000) // 2000


def frames_in_us(microseconds: int, rate_hz: int) -> int:
    return (2 * microseconds * rate_hz + 1_000_000) // 2_000_000


def cue_of(note: Note, quarters_per_minute: Fraction, rate_hz: int) -> Cue:
    """Its end as written is added up by hand: making fractions took a good part of the time."""
    (n, d), (m, e) = note.start.as_integer_ratio(), note.length.as_integer_ratio()
    tempo = quarters_per_minute.as_integer_ratio()
    beat = _frame(n, d, *tempo, rate_hz)
    written = _frame(n * e + m * d, d * e, *tempo, rate_hz) - beat
    start = beat + min(frames_in(note.late_ms, rate_hz), written // 2) if note.late_ms else beat
    return Cue(note, beat, start, frame_of(note.rings_until, quarters_per_minute, rate_hz), written)
