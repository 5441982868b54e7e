"""A performance as a Standard MIDI File that opens in any music program.

Two tracks: title, tempo, meter, and as markers the names of links and chords; then the
banjo, one channel a string (1 to 5, so that a bend touches its own string only and channel
10, the drums, stays free).
Hammer-ons, pull-offs and slides are notes of their own, softer than picked ones; a slide's
string steps up or down fret by fret on the way. A choke bends the string it stands on. A
damped pluck is a very short, soft note at the open string's pitch: its rhythm is heard, its
pitch is not. Vibrato is left out.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import zip_longest

from ..model.lick import Lick
from ..model.note import Note
from ..model.performance import BarPass, Performance
from ..model.tab import CHOKE, SLIDE
from ..model.tuning import STRING_NUMBERS
from . import midi_file
from .bends import BEND_RANGE_SEMITONES, bends_of
from .links import link_places, link_start

BANJO_PROGRAM = 105
"""Zero-based; General MIDI's list counts it 106."""
RPN_HIGH, RPN_LOW, DATA_HIGH, DATA_LOW = 101, 100, 6, 38
NO_RPN = 127
VELOCITIES = {"pick": 92, "choke": 92, "chime": 84, "hammer-on": 72, "pull-off": 68, "slide": 64, "damped": 40}
ACCENT_VELOCITY = 25
DAMPED_QUARTERS = Fraction(1, 16)


def midi_bytes(lick: Lick, performance: Performance) -> bytes:
    """The whole file, at the full tempo."""
    return midi_file.file_bytes([list(_conductor(lick, performance)), list(_banjo(lick, performance))])


def _conductor(lick: Lick, performance: Performance) -> Iterator[midi_file.Event]:
    yield 0, midi_file.track_name(lick.title)
    yield 0, midi_file.tempo(performance.quarters_per_minute)
    yield from _meters(lick, performance.bar_map)
    for place in link_places(lick):
        yield midi_file.ticks(link_start(place, lick, performance)), midi_file.marker(place.link.title)
    for start, name in performance.chords:
        yield midi_file.ticks(start), midi_file.marker(name)


def _meters(lick: Lick, bar_map: Sequence[BarPass]) -> Iterator[midi_file.Event]:
    """A pick-up or a bar left short gets a meter of its own, so that barlines fall where they are written."""
    before = None
    for bar in bar_map:
        if bar.length != before:
            count, unit = _count_and_unit(lick, bar.length)
            yield midi_file.ticks(bar.start), midi_file.time_signature(count, unit, lick.meter.beat_quarters)
        before = bar.length


def _count_and_unit(lick: Lick, quarters: Fraction) -> tuple[int, int]:
    if quarters == lick.meter.quarters:
        return lick.meter.count, lick.meter.unit
    whole = quarters / 4
    unit = max(lick.meter.unit, whole.denominator)
    return int(whole * unit), unit


def _banjo(lick: Lick, performance: Performance) -> Iterator[midi_file.Event]:
    yield 0, midi_file.track_name("Banjo")
    for string_number in STRING_NUMBERS:
        yield from _set_up(string_number - 1)
    for string_number in STRING_NUMBERS:
        on_string = [note for note in performance.notes if note.string == string_number]
        yield from _string(lick, string_number, _voices(on_string))


def _set_up(channel: int) -> Iterator[midi_file.Event]:
    """Program, and a bend range of an octave each way by registered parameter 0."""
    yield 0, midi_file.program(channel, BANJO_PROGRAM)
    settings = ((RPN_HIGH, 0), (RPN_LOW, 0), (DATA_HIGH, BEND_RANGE_SEMITONES), (DATA_LOW, 0),
                (RPN_HIGH, NO_RPN), (RPN_LOW, NO_RPN))
    for controller, value in settings:
        yield 0, midi_file.control(channel, controller, value)
    yield 0, midi_file.pitch_bend(channel, midi_file.BEND_CENTRE)


def _voices(on_string: Sequence[Note]) -> list[list[Note]]:
    """Each note that sounds anew, with the chokes and releases that only bend it after it."""
    voices: list[list[Note]] = []
    for note in on_string:
        if voices and note.touch == CHOKE and not note.picked:
            voices[-1].append(note)
        else:
            voices.append([note])
    return voices


def _string(lick: Lick, string_number: int, voices: Sequence[Sequence[Note]]) -> Iterator[midi_file.Event]:
    channel = string_number - 1
    bend = midi_file.BEND_CENTRE
    for voice, following in zip_longest(voices, voices[1:]):
        head = voice[0]
        on, off = midi_file.ticks(head.start), midi_file.ticks(_end(voice))
        midi = lick.midi(string_number, 0) if head.midi is None else head.midi
        if bend != midi_file.BEND_CENTRE:
            bend = midi_file.BEND_CENTRE
            yield on, midi_file.pitch_bend(channel, bend)
        yield on, midi_file.note_on(channel, midi, _velocity(head))
        slide = following[0] if following and following[0].touch == SLIDE else None
        for tick, value in bends_of(voice, slide):
            if value != bend and on <= tick < max(off, on + 1):
                bend = value
                yield tick, midi_file.pitch_bend(channel, value)
        yield max(on, off), midi_file.note_off(channel, midi)


def _end(voice: Sequence[Note]) -> Fraction:
    last = voice[-1]
    return min(last.start + DAMPED_QUARTERS, last.rings_until) if last.midi is None else last.rings_until


def _velocity(note: Note) -> int:
    return VELOCITIES[note.touch] + (ACCENT_VELOCITY if note.accent else 0)
