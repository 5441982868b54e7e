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
    ticks = quarters.denominator * quarters_per_minute.numerator
    return (120 * quarters.numerator * rate_hz * quarters_per_minute.denominator + ticks) // (2 * ticks)


def frames_in(milliseconds: int, rate_hz: int) -> int:
    return (2 * milliseconds * rate_hz + 1000) // 2000


def frames_in_us(microseconds: int, rate_hz: int) -> int:
    return (2 * microseconds * rate_hz + 1_000_000) // 2_000_000


def cue_of(note: Note, quarters_per_minute: Fraction, rate_hz: int) -> Cue:
    beat, until, written_end = (
        frame_of(time, quarters_per_minute, rate_hz)
        for time in (note.start, note.rings_until, note.start + note.length)
    )
    written = written_end - beat
    start = beat + min(frames_in(note.late_ms, rate_hz), written // 2) if note.late_ms else beat
    return Cue(note, beat, start, until, written)
