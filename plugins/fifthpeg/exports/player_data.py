"""What the player needs inside the page: the performance, and the name of each note's sound."""

from collections.abc import Sequence
from fractions import Fraction

from ..model.backing import Stem
from ..model.bank import bank_note
from ..model.lick import Lick
from ..model.note import Note
from ..model.performance import Performance
from ..model.tab import CHOKE
from .links import LinkPlace, link_places, link_start
from .player_bars import player_bars

GAIN_DIGITS = 6


def player_data(lick: Lick, performance: Performance, rate_hz: int, gain: float, stems: Sequence[Stem] = (),
                backing_gain: float = 1.0) -> dict:
    """A JSON value. Times are [numerator, denominator] in quarter notes from the start.

    ``gain`` is the linear factor that brings lick and backing at full tempo to the site's loudness, ``backing_gain``
    that of each stem before it; ``stems`` is None where there is no backing. ``tempos`` are the recordings' as shares of
    the full tempo.
    ``pickup`` is the length of bar 0, 0 where there is none. ``links`` are those of a chain that
    are heard, numbered from 0 as in its block; empty where there is no chain. A note's ``left`` is written or chosen.
    Its ``hand`` is [linear gain, shade, milliseconds late].
    ``full_bar`` is the meter's; ``exit`` is where the way out begins, None where there is none.
    """
    return {
        "id": lick.id, "title": lick.title, "rate": rate_hz,
        "qpm": pair(performance.quarters_per_minute), "beat": pair(lick.meter.beat_quarters),
        "quarters": pair(performance.quarters), "pickup": pair(lick.pickup * lick.slot_quarters),
        "gain": round(gain, GAIN_DIGITS), "tempos": [pair(share) for share in lick.tempos],
        "links": [_link(place, lick, performance) for place in link_places(lick)],
        "full_bar": pair(lick.meter.quarters),
        "exit": None if performance.exit_start is None else pair(performance.exit_start),
        "bars": player_bars(lick, performance),
        "notes": [_note(note, lick.capo) for note in performance.notes],
        "stems": [_stem(stem, backing_gain) for stem in stems] or None,
    }


def pair(value: Fraction) -> list[int]:
    """An exact fraction as JSON can carry it."""
    return [value.numerator, value.denominator]


def _link(place: LinkPlace, lick: Lick, performance: Performance) -> dict:
    return {"link": place.number, "id": place.link.id, "title": place.link.title,
            "start": pair(link_start(place, lick, performance))}


def _stem(stem: Stem, gain: float) -> dict:
    """``line`` is what a string is to the lick: its notes damp one another."""
    return {"name": stem.name, "gain": gain,
            "notes": [{"start": pair(note.start), "until": pair(note.until), "line": note.sound.line,
                       "sound": note.sound.name} for note in stem.notes]}


def _note(note: Note, capo: int) -> dict:
    return {
        "mark": note.mark, "string": note.string, "fret": note.fret, "finger": note.finger, "left": note.left,
        "start": pair(note.start), "length": pair(note.length), "until": pair(note.rings_until),
        "sound": None if _only_bends(note) else bank_note(note, capo).name,
        "touch": note.touch, "picked": note.picked, "from": note.from_fret,
        "bend": pair(note.bend), "release": note.release, "accent": note.accent, "vibrato": note.vibrato,
        "hand": [note.gain, note.shade, note.late_ms],
        "bar": note.bar, "slot": note.slot, "link": note.link,
    }


def _only_bends(note: Note) -> bool:
    """A choke or its release on a string that rings already sounds nothing new."""
    return note.touch == CHOKE and not note.picked
