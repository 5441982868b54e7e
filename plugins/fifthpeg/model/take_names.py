"""What a take is called: string and fret, ``3-2.wav``, and the other ways a teacher might write that."""

import re
from dataclasses import dataclass

from .tuning import LAST_FRET, SHORT_STRING, STRING_NUMBERS, TUNINGS, first_short_string_fret, sounding_midi

TAKEN_IN = TUNINGS["open G"]
"""The tuning in which takes are recorded, without a capo."""
EXAMPLE = "3-2.wav"
WAV_ENDING = ".wav"
OTHER_SOUND_ENDINGS = (".aac", ".aif", ".aiff", ".caf", ".flac", ".m4a", ".mp3", ".ogg", ".opus", ".wma")
_NAME = re.compile(
    r"(?:(?:string|str|s)[-_. ]*)?(?P<string>\d+)"
    r"(?:[-_., :]+(?:fret|fr|f)?|fret|fr|f)[-_. ]*"
    r"(?P<fret>\d+|open)", re.IGNORECASE)


@dataclass(frozen=True, order=True)
class TakeName:
    """One string at one fret, counted as in tab: 0 is open, and the short string goes on from 6."""

    string: int
    fret: int

    @property
    def midi(self) -> int:
        """What it sounds in the tuning in which takes are recorded."""
        return sounding_midi(TAKEN_IN, self.string, self.fret)

    @property
    def file_name(self) -> str:
        return f"{self.string}-{self.fret}{WAV_ENDING}"

    @property
    def words(self) -> str:
        return f"string {self.string}, {f'fret {self.fret}' if self.fret else 'open'}"


@dataclass(frozen=True)
class BadName:
    """``says`` what is wrong with a file's name."""

    says: str


def read_name(file_name: str) -> TakeName | BadName | None:
    """The place a file's name tells of, or what is wrong with it; None for a file that is no recording at all."""
    stem, dot, ending = file_name.rpartition(".")
    if not stem or f"{dot}{ending}".lower() not in (WAV_ENDING, *OTHER_SOUND_ENDINGS):
        return None
    if ending.lower() != WAV_ENDING.removeprefix("."):
        return BadName(f"only WAV files are read, and this is .{ending}; save it as WAV")
    match = _NAME.fullmatch(stem.strip())
    if not match:
        return BadName(f"the name tells no string and fret, as `{EXAMPLE}` does")
    return _on_the_neck(int(match["string"]), 0 if match["fret"].lower() == "open" else int(match["fret"]))


def all_take_names() -> tuple[TakeName, ...]:
    """Every place there is a note on the neck, string by string."""
    return tuple(TakeName(string, fret) for string in STRING_NUMBERS for fret in frets_of(string))


def frets_of(string_number: int) -> tuple[int, ...]:
    first = first_short_string_fret(0, None) if string_number == SHORT_STRING else 1
    return (0, *range(first, LAST_FRET + 1))


def _on_the_neck(string_number: int, fret: int) -> TakeName | BadName:
    if string_number not in STRING_NUMBERS:
        return BadName(f"there is no string {string_number}; strings are 1 to {len(STRING_NUMBERS)}")
    if fret in frets_of(string_number):
        return TakeName(string_number, fret)
    if string_number == SHORT_STRING and fret < LAST_FRET:
        return BadName(f"the short string has no fret {fret}: it is open as `{TakeName(SHORT_STRING, 0).file_name}`, "
                       f"and goes on from fret {frets_of(SHORT_STRING)[1]}")
    return BadName(f"there is no fret {fret}; the last one is {LAST_FRET}")
