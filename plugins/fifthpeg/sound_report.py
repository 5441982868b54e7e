"""The whole bank sounded, measured and drawn, for ``fifthpeg sound report``."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from .compiled import DEFAULT_RATE_HZ
from .exports.sound_pictures import Sound, chart, portraits
from .model.bank import BankNote
from .model.own_bank import NO_OWN_BANK, OwnBank
from .model.pitch import name_of
from .model.sound_figures import QUANTITIES
from .model.take_names import TakeName, frets_of
from .model.tuning import STRING_NUMBERS
from .pages.report_page import Picture, ReportedNote, ReportPart, SoundReport
from .pipeline import SOFTWARE, bank_samples
from .sound.measuring import figures_of
from .sound.touches import TOUCHES
from .sound.version import SYNTHESIS_VERSION

FRETS_IN_PICTURES = (0, 7, 12, 19)
TOUCHED = TakeName(3, 2)
CHIMED = TakeName(3, 12)
CHARTED = ("cents", "falls_10_db", "falls_20_db", "centre_hz", "level_db")

Sounding = Callable[[BankNote], np.ndarray]


def sound_report(own: OwnBank = NO_OWN_BANK, rate_hz: int = DEFAULT_RATE_HZ) -> SoundReport:
    """Of the plain plucks of every place on the neck in open G, and of every touch at one place."""
    def sound_of(note: BankNote) -> np.ndarray:
        return bank_samples(note, rate_hz, own)

    strings = [_string(number, sound_of, rate_hz) for number in STRING_NUMBERS]
    kind = "a teacher's own bank" if own.key else f"the synthesized bank, version {SYNTHESIS_VERSION}"
    return SoundReport(f"{SOFTWARE}, {kind}, {rate_hz} samples a second.", tuple(_overview(strings)),
                       (*strings, _touches(sound_of, rate_hz)))


def _string(number: int, sound_of: Sounding, rate_hz: int) -> ReportPart:
    places = [TakeName(number, fret) for fret in frets_of(number)]
    notes = tuple(_measured(_plucked(place), _fret(place), sound_of, rate_hz) for place in places)
    shown = [place for place in places if place.fret in FRETS_IN_PICTURES]
    drawn = portraits(f"string-{number}", [Sound(_fret(place), sound_of(_plucked(place)), rate_hz) for place in shown])
    return ReportPart(f"String {number}", notes, (Picture(drawn, f"String {number}: waves and spectrograms"),))


def _touches(sound_of: Sounding, rate_hz: int) -> ReportPart:
    notes = [_touched(touch) for touch in TOUCHES]
    drawn = portraits("touches", [Sound(note.touch, sound_of(note), rate_hz) for note in notes])
    return ReportPart("Touches",
                      tuple(_measured(note, f"{note.touch}, {TakeName(note.string, note.stop).words}", sound_of, rate_hz)
                            for note in notes if note.touch != "pick"),
                      (Picture(drawn, "Touches: waves and spectrograms"),))


def _overview(strings: Sequence[ReportPart]) -> Iterator[Picture]:
    for quantity in (each for each in QUANTITIES if each.name in CHARTED):
        lines = {part.title: [(BankNote.from_name(note.name).stop, getattr(note.figures, quantity.name))
                              for note in part.notes if getattr(note.figures, quantity.name) is not None] for part in strings}
        yield Picture(chart(quantity.name, quantity.label, lines, quantity.least_span),
                      f"{quantity.label}, by fret, a line for each string")


def _measured(note: BankNote, words: str, sound_of: Sounding, rate_hz: int) -> ReportedNote:
    return ReportedNote(note.name, words, figures_of(sound_of(note), rate_hz, note.midi))


def _plucked(place: TakeName) -> BankNote:
    return BankNote(place.string, place.midi, place.fret)


def _touched(touch: str) -> BankNote:
    note = replace(_plucked(CHIMED if touch == "chime" else TOUCHED), touch=touch)
    return replace(note, midi=0) if touch == "damped" else note


def _fret(place: TakeName) -> str:
    return f"{f'Fret {place.fret}' if place.fret else 'Open'}, {name_of(place.midi)}"
