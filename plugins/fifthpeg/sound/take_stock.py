"""Every file of a teacher's own bank listened to: what it sounds, what is wrong with it, whether it can be used."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import log2

from ..model.own_bank import OwnBank
from ..model.pitch import CONCERT_A_HZ, CONCERT_A_MIDI, SEMITONES_PER_OCTAVE
from ..model.take_names import BadName, TakeName, read_name
from .pitch_tracking import pitch_hz, rough_pitch_hz
from .take import Take, is_silent, read_wav, trimmed
from .take_faults import is_clipped, noise_below_db

CENTS_IN_A_STEP = 100
WRONG_NOTE_CENTS = 50.0
"""Farther off than this, a take is nearer to another fret than to its own."""
SHORTEST_SECONDS = 0.3
"""What is shorter can be neither tuned nor levelled."""

UNREADABLE, SILENT, SHORT, NO_PITCH, WRONG_NOTE, TWICE = "unreadable", "silent", "short", "no pitch", "wrong note", "twice"


@dataclass(frozen=True)
class Heard:
    """A file of which a note can be made. ``midi`` is what it sounds, with its fraction; ``noise_db`` how far below
    the note the noise lies."""

    file_name: str
    name: TakeName
    first_partial_hz: float
    seconds: float
    clipped: bool
    noise_db: float

    @property
    def midi(self) -> float:
        return midi_of_hz(self.first_partial_hz)

    @property
    def cents_off(self) -> float:
        """Sharp above 0, flat below."""
        return CENTS_IN_A_STEP * (self.midi - self.name.midi)


@dataclass(frozen=True)
class Refused:
    """A file of which none can be made. ``why`` is one of the words above, or what is wrong with its name."""

    file_name: str
    why: str
    name: TakeName | None = None
    midi: float | None = None


@dataclass(frozen=True)
class Stock:
    """``heard`` by name; ``refused`` by file."""

    heard: Mapping[TakeName, Heard]
    refused: tuple[Refused, ...]

    def of_string(self, string_number: int) -> tuple[Heard, ...]:
        return tuple(heard for name, heard in self.heard.items() if name.string == string_number)


@cache
def take_stock(own: OwnBank) -> Stock:
    """Once a run and folder: it takes about a hundredth of a second a file."""
    heard: dict[TakeName, Heard] = {}
    refused = []
    for file_name in sorted(own.files):
        found = _listen(file_name, own.files[file_name])
        if isinstance(found, Heard) and found.name in heard:
            found = Refused(file_name, TWICE, found.name)
        if isinstance(found, Heard):
            heard[found.name] = found
        elif found:
            refused.append(found)
    return Stock(dict(sorted(heard.items())), tuple(refused))


def take_of(heard: Heard, own: OwnBank) -> Take:
    """The sound itself, read again: all takes of a bank together would fill the memory."""
    samples, rate_hz = read_wav(own.files[heard.file_name])
    return trimmed(samples, rate_hz)


def midi_of_hz(hz: float) -> float:
    return CONCERT_A_MIDI + SEMITONES_PER_OCTAVE * log2(hz / CONCERT_A_HZ)


def _listen(file_name: str, content: bytes) -> Heard | Refused | None:
    """None for a file that is no recording."""
    name = read_name(file_name)
    if name is None:
        return None
    take = _take_in(content)
    hz = _pitch_of(take) if isinstance(take, Take) else None
    if isinstance(name, BadName):
        return Refused(file_name, name.says, midi=midi_of_hz(hz) if hz else None)
    if not isinstance(take, Take):
        return Refused(file_name, take, name)
    if hz is None:
        return Refused(file_name, NO_PITCH, name)
    heard = Heard(file_name, name, hz, take.seconds, is_clipped(take.samples, take.rate_hz), noise_below_db(take, hz))
    return Refused(file_name, WRONG_NOTE, name, heard.midi) if abs(heard.cents_off) > WRONG_NOTE_CENTS else heard


def _take_in(content: bytes) -> Take | str:
    """The trimmed take, or why there is none."""
    read = read_wav(content)
    if read is None:
        return UNREADABLE
    if is_silent(read[0]):
        return SILENT
    take = trimmed(*read)
    return take if take.seconds >= SHORTEST_SECONDS else SHORT


def _pitch_of(take: Take) -> float | None:
    rough_hz = rough_pitch_hz(take.samples, take.rate_hz)
    return pitch_hz(take.samples, take.rate_hz, rough_hz) if rough_hz else None
