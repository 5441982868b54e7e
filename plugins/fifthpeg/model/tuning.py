"""Tunings of the five-string banjo, and what a fret on a string sounds."""

from dataclasses import dataclass

STRING_NUMBERS = (1, 2, 3, 4, 5)
SHORT_STRING = 5
SHORT_STRING_NUT = 5
"""The fret of the long neck at which the short string's own nut stands."""
LAST_FRET = 22


@dataclass(frozen=True)
class Tuning:
    """``pitches`` are MIDI note numbers of the open strings, 5th to 1st."""

    name: str
    pitches: tuple[int, int, int, int, int]

    def open_midi(self, string_number: int) -> int:
        return self.pitches[SHORT_STRING - string_number]


TUNINGS = {
    "open G": Tuning("open G", (67, 50, 55, 59, 62)),
    "double C": Tuning("double C", (67, 48, 55, 60, 62)),
    "sawmill": Tuning("sawmill", (67, 50, 55, 60, 62)),
    "drop C": Tuning("drop C", (67, 48, 55, 59, 62)),
    "open D": Tuning("open D", (66, 50, 54, 57, 62)),
    "open D with a": Tuning("open D with a", (69, 50, 54, 57, 62)),
    "G minor": Tuning("G minor", (67, 50, 55, 58, 62)),
}


def short_string_stop(capo: int, fifth: int | None) -> int:
    """The physical fret the short string is raised to: said outright, or five past the capo."""
    if fifth is None:
        return capo + SHORT_STRING_NUT
    return max(fifth, SHORT_STRING_NUT)


def first_short_string_fret(capo: int, fifth: int | None) -> int:
    """The lowest fret that can be written on the short string (frets are counted from the capo)."""
    return short_string_stop(capo, fifth) - capo + 1


def sounding_midi(tuning: Tuning, string_number: int, fret: int, capo: int = 0, fifth: int | None = None) -> int:
    """The pitch of a written fret; 0 is the open string.

    Frets count from the capo, on the short string too, where written fret n sounds its
    open pitch + n + capo − 5, since its nut stands at the fifth fret.
    """
    open_midi = tuning.open_midi(string_number)
    if string_number != SHORT_STRING:
        return open_midi + capo + fret
    stop = short_string_stop(capo, fifth) if fret == 0 else fret + capo
    return open_midi + stop - SHORT_STRING_NUT
