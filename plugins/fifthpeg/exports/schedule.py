"""The published schedule of a lick: what is played, exactly when, and what was noticed about it.

Times are quarter notes from the start. Each is there as a number, rounded to
``TIME_DIGITS``, and, for plucks, as an exact fraction in text (``at``, ``for``).
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..model.findings import Findings, Join, RepeatedFinger, Seam
from ..model.lick import Lick
from ..model.note import Note
from ..model.performance import BarPass, Performance
from ..model.tuning import short_string_stop

SCHEMA = 1
TIME_DIGITS = 6
SPEED_DIGITS = 2


@dataclass(frozen=True)
class Recording:
    """One published WAV: ``wav`` is its file name, ``gain`` the linear factor it was brought to level with."""

    name: str
    quarters_per_minute: Fraction
    wav: str
    gain: float | None = None


def schedule(lick: Lick, performance: Performance, findings: Findings, recordings: Sequence[Recording]) -> dict:
    """A JSON value. ``bars`` counts numbered bars, ``bar`` 0 being the pick-up; ``pickup`` is in slots."""
    return {
        "schema": SCHEMA, "id": lick.id, "title": lick.title, "varies": lick.varies, "role": lick.role,
        "key": lick.key, "meter": str(lick.meter), "grid": lick.grid, "bounce": lick.bounce, "pickup": lick.pickup,
        "quarters": number(performance.quarters),
        "quarters_per_minute": number(performance.quarters_per_minute),
        "beat_quarters": number(lick.meter.beat_quarters),
        "tempos": [_tempo(recording) for recording in recordings],
        "bars": sum(bar.number > 0 for bar in lick.bars),
        "exit_bars": lick.exit_bars,
        "exit_start": None if performance.exit_start is None else number(performance.exit_start),
        "bar_map": [_bar_pass(bar) for bar in performance.bar_map],
        "tuning": list(lick.tuning.pitches), "capo": lick.capo, "fifth": short_string_stop(lick.capo, lick.fifth),
        "plucks": [_pluck(note) for note in performance.notes],
        "chords": [{"start": number(start), "name": name} for start, name in performance.chords],
        "rolls": [{"bar": roll.bar, "name": roll.name} for roll in findings.rolls],
        "marks": [_mark(repeat) for repeat in findings.repeats],
        "seams": [_seam(seam) for seam in findings.seams],
        "loop": _join(findings.loop),
        "loop_with_exit": _join(findings.loop_with_exit),
    }


def schedule_bytes(value: dict) -> bytes:
    """UTF-8 JSON, one line a key and one a pluck, mark or bar: small, yet to be read and compared by eye."""
    lines = [f"{_json(key)}: {_lines_of(entry)}" for key, entry in value.items()]
    return ("{\n" + ",\n".join(lines) + "\n}\n").encode("utf-8")


def number(value: Fraction, digits: int = TIME_DIGITS) -> int | float:
    """Whole numbers as such, others as the nearest decimal of so many digits."""
    return value.numerator if value.denominator == 1 else round(float(value), digits)


def _lines_of(entry: object) -> str:
    if isinstance(entry, list) and entry and isinstance(entry[0], dict):
        return "[\n  " + ",\n  ".join(_json(item) for item in entry) + "\n]"
    return _json(entry)


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _tempo(recording: Recording) -> dict:
    entry = {"name": recording.name, "quarters_per_minute": number(recording.quarters_per_minute),
             "wav": recording.wav}
    return entry if recording.gain is None else entry | {"gain": round(recording.gain, TIME_DIGITS)}


def _bar_pass(bar: BarPass) -> dict:
    return {"bar": bar.bar, "pass": bar.passage, "link": bar.link,
            "start": number(bar.start), "length": number(bar.length)}


def _pluck(note: Note) -> dict:
    return {
        "string": note.string, "fret": note.fret, "midi": note.midi,
        "start": number(note.start), "at": str(note.start), "length": number(note.length), "for": str(note.length),
        "rings_until": number(note.rings_until), "finger": note.finger, "given": note.given, "left": note.left,
        "touch": note.touch, "picked": note.picked, "from_fret": note.from_fret,
        "accent": note.accent, "vibrato": note.vibrato, "bend": number(note.bend), "release": note.release,
        "strike": note.strike, "bar": note.bar, "slot": note.slot, "pass": note.passage, "link": note.link,
        "mark": note.mark,
    }


def _mark(repeat: RepeatedFinger) -> dict:
    return {"fingers": list(repeat.fingers), "bar": repeat.bar, "slot": repeat.slot,
            "per_second": _speed(repeat.per_second), "verdict": repeat.verdict,
            "clashes_above": _speed(repeat.clashes_above)}


def _seam(seam: Seam) -> dict:
    return {"link": seam.link, "from": seam.from_id, "to": seam.to_id, "at": str(seam.at)} | _join(seam.join)


def _join(join: Join) -> dict:
    return {"verdict": join.verdict, "fingers": list(join.fingers),
            "per_second": _speed(join.per_second), "clashes_above": _speed(join.clashes_above),
            "repairs": [{"name": repair.name, "says": repair.says} for repair in join.repairs]}


def _speed(value: float | None) -> int | float | None:
    """Two digits: a finger's speed is no finer than that."""
    if value is None:
        return None
    rounded = round(value, SPEED_DIGITS)
    return int(rounded) if rounded == int(rounded) else rounded
