"""Where the frets lie: d = L · (1 − 2^(−n/12)), the rule of twelve-tone equal temperament."""

from collections.abc import Iterable

from ..model.pitch import SEMITONES_PER_OCTAVE

SCALE_LENGTH_MM = 666.75
"""26¼ inches, a common scale."""


def fret_mm(fret: int, scale_length_mm: float = SCALE_LENGTH_MM) -> float:
    """From the nut to a fret of the long neck."""
    return scale_length_mm * (1 - 2 ** (-fret / SEMITONES_PER_OCTAVE))


def span_mm(frets: Iterable[int], capo: int = 0, scale_length_mm: float = SCALE_LENGTH_MM) -> float:
    """From the lowest to the highest of some written frets, which are counted from the capo; 0 for none or one."""
    places = [fret_mm(fret + capo, scale_length_mm) for fret in frets]
    return max(places) - min(places) if places else 0.0
