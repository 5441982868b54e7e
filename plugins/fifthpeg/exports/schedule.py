"""The published schedule of a lick: what is played, exactly when, and what was noticed about it.

Times are quarter notes from the start. Each is there as a number, rounded to
``TIME_DIGITS``, and, for plucks, links and seams, as an exact fraction in text (``at``, ``for``).
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import isfinite

from ..model.backing import BackingNote, Stem
from ..model.findings import Findings
from ..model.lick import Lick
from ..model.note import Note
from ..model.performance import BarPass, Performance
from ..model.tuning import short_string_stop
from .links import LinkPlace, link_places, link_start
from .schedule_findings import half_roll_json, harmony_json, join_json, left_hand_json, mark_json, seam_json
from .schedule_numbers import TIME_DIGITS, number

SCHEMA = 1


@dataclass(frozen=True)
class Recording:
    """One recording: ``wav`` is its file name, None where it is not made.

    ``gain`` is the linear factor it was brought to level with; ``lufs`` and ``dbtp`` are its loudness and true peak as
    published (BS.1770), ``limited_db`` the most that the limiter took (0: it was not needed); ``count_frames``, of what
    is counted, lie before quarter 0.
    """

    name: str
    quarters_per_minute: Fraction
    wav: str | None
    gain: float | None = None
    lufs: float | None = None
    dbtp: float | None = None
    limited_db: float | None = None
    count_frames: int | None = None


def schedule(lick: Lick, performance: Performance, findings: Findings, recordings: Sequence[Recording],
             stems: Sequence[Stem] = ()) -> dict:
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
        "backing": [_backing_note(stem, note) for stem in stems for note in stem.notes],
        "links": [_link(place, lick, performance) for place in link_places(lick)],
        "rolls": [{"bar": roll.bar, "name": roll.name} for roll in findings.rolls],
        "half_rolls": [half_roll_json(roll) for roll in findings.half_rolls],
        "marks": [mark_json(repeat) for repeat in findings.repeats],
        "seams": [seam_json(seam) for seam in findings.seams],
        "loop": join_json(findings.loop),
        "loop_with_exit": join_json(findings.loop_with_exit),
        "left": left_hand_json(findings.left),
        "harmony": harmony_json(findings.harmony),
    }


def schedule_bytes(value: dict) -> bytes:
    """UTF-8 JSON, one line a key and one a pluck, mark or bar: small, yet to be read and compared by eye."""
    lines = [f"{_json(key)}: {_lines_of(entry)}" for key, entry in value.items()]
    return ("{\n" + ",\n".join(lines) + "\n}\n").encode("utf-8")


def _lines_of(entry: object) -> str:
    if isinstance(entry, list) and entry and isinstance(entry[0], dict):
        return "[\n  " + ",\n  ".join(_json(item) for item in entry) + "\n]"
    return _json(entry)


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _tempo(recording: Recording) -> dict:
    measured = {"gain": recording.gain, "lufs": recording.lufs, "true_peak_dbtp": recording.dbtp,
                "limited_db": recording.limited_db, "count_frames": recording.count_frames}
    said = {key: round(value, TIME_DIGITS) for key, value in measured.items() if value is not None and isfinite(value)}
    tempo = number(recording.quarters_per_minute)
    return {"name": recording.name, "quarters_per_minute": tempo, "wav": recording.wav} | said


def _backing_note(stem: Stem, note: BackingNote) -> dict:
    return {"stem": stem.name, "pitches": list(note.sound.pitches), "start": number(note.start),
            "at": str(note.start), "until": number(note.until)}


def _bar_pass(bar: BarPass) -> dict:
    return {"bar": bar.bar, "pass": bar.passage, "link": bar.link,
            "start": number(bar.start), "length": number(bar.length)}


def _link(place: LinkPlace, lick: Lick, performance: Performance) -> dict:
    start = link_start(place, lick, performance)
    return {"link": place.number, "id": place.link.id, "title": place.link.title, "at": str(start),
            "start": number(start)}


def _pluck(note: Note) -> dict:
    return {
        "string": note.string, "fret": note.fret, "midi": note.midi,
        "start": number(note.start), "at": str(note.start), "length": number(note.length), "for": str(note.length),
        "rings_until": number(note.rings_until), "finger": note.finger, "given": note.given,
        "left": note.left, "left_given": note.left_given if note.left else None,
        "touch": note.touch, "picked": note.picked, "from_fret": note.from_fret,
        "accent": note.accent, "vibrato": note.vibrato, "bend": number(note.bend), "release": note.release,
        "strike": note.strike, "bar": note.bar, "slot": note.slot, "pass": note.passage, "link": note.link,
        "mark": note.mark,
    }
