"""How MusicXML spells pitches, keys and chords.

All goes by places on the line of fifths: … B♭ −2, F −1, C 0, G 1, D 2 …
"""

import re

from ..model.pitch import ACCIDENTALS, NATURALS, SEMITONES_PER_OCTAVE

LETTERS = "FCGDAEB"
"""Place −1 to 5."""
SEMITONES_IN_FIFTH = 7
MINOR_SHIFT = 3
"""A minor key has the signature of the major key three fifths flatter than its keynote's."""
MOST_SIGNS = 7
FLATTEST = {False: -4, True: -2}
"""Is minor -> how far below the signature's own keynote twelve usual spellings begin:
from the flat sixth to the sharp fifth in major, to the raised fourth in minor."""
KINDS = {
    "": "major", "m": "minor", "7": "dominant", "m7": "minor-seventh", "maj7": "major-seventh",
    "6": "major-sixth", "m6": "minor-sixth", "9": "dominant-ninth", "sus2": "suspended-second",
    "sus4": "suspended-fourth", "7sus4": "suspended-fourth", "dim": "diminished", "dim7": "diminished-seventh",
    "m7b5": "half-diminished", "aug": "augmented", "add9": "major", "5": "power",
}
ADDED_DEGREES = {"7sus4": (7, -1), "add9": (9, 0)}
"""Quality -> (degree, alteration) that its kind does not hold."""
_KEY = re.compile(r"([A-G])([#♯b♭]?)(m?)\Z")
_CHORD = re.compile(r"([A-G])([#♯b♭]?)([a-z0-9]*)(?:/([A-G])([#♯b♭]?))?\Z")


def key_of(name: str, semitones_up: int) -> tuple[int, bool, int]:
    """Signature (fifths) and whether minor, of a key moved up; and the places on the line it moved by."""
    letter, accidental, minor = _KEY.match(name).groups()
    written = _place(letter, accidental) - (MINOR_SHIFT if minor else 0)
    moved = written + semitones_up * SEMITONES_IN_FIFTH % SEMITONES_PER_OCTAVE
    while moved > (MOST_SIGNS if not semitones_up else MOST_SIGNS - 1):
        moved -= SEMITONES_PER_OCTAVE
    while moved < -MOST_SIGNS:
        moved += SEMITONES_PER_OCTAVE
    return moved, bool(minor), moved - written


def pitch_xml(midi: int, fifths: int, is_minor: bool) -> str:
    """The pitch as the key would spell it."""
    first = fifths + FLATTEST[is_minor]
    place = first + (midi * SEMITONES_IN_FIFTH - first) % SEMITONES_PER_OCTAVE
    step, alter = _step(place)
    octave = (midi - NATURALS[step] - alter) // SEMITONES_PER_OCTAVE - 1
    return f"<pitch>{_named('step', step, 'alter', alter)}<octave>{octave}</octave></pitch>"


def tuning_xml(midi: int, line: int, fifths: int, is_minor: bool) -> str:
    """An open string on a line counted from the bottom."""
    spelled = pitch_xml(midi, fifths, is_minor).removeprefix("<pitch>").removesuffix("</pitch>")
    for name in ("step", "alter", "octave"):
        spelled = spelled.replace(f"<{name}>", f"<tuning-{name}>").replace(f"</{name}>", f"</tuning-{name}>")
    return f'<staff-tuning line="{line}">{spelled}</staff-tuning>'


def harmony_xml(name: str, places_up: int, offset: str) -> str:
    """A chord moved along the line of fifths; ``offset`` is the element that places it, or nothing."""
    letter, accidental, quality, bass_letter, bass_accidental = _CHORD.match(name).groups()
    root = _named("root-step", *_moved(letter, accidental, places_up, "root-alter"))
    bass = (f"<bass>{_named('bass-step', *_moved(bass_letter, bass_accidental, places_up, 'bass-alter'))}</bass>"
            if bass_letter else "")
    return (f'<harmony><root>{root}</root><kind text="{quality}">{KINDS[quality]}</kind>{bass}'
            f"{_degree(quality)}{offset}</harmony>")


def _moved(letter: str, accidental: str, places_up: int, alter_name: str) -> tuple[str, str, int]:
    step, alter = _step(_place(letter, accidental) + places_up)
    return step, alter_name, alter


def _degree(quality: str) -> str:
    """Not printed: the words of ``kind`` say it already."""
    if quality not in ADDED_DEGREES:
        return ""
    value, alter = ADDED_DEGREES[quality]
    return (f'<degree print-object="no"><degree-value>{value}</degree-value><degree-alter>{alter}</degree-alter>'
            "<degree-type>add</degree-type></degree>")


def _named(step_name: str, step: str, alter_name: str, alter: int) -> str:
    altered = f"<{alter_name}>{alter}</{alter_name}>" if alter else ""
    return f"<{step_name}>{step}</{step_name}>{altered}"


def _place(letter: str, accidental: str) -> int:
    return LETTERS.index(letter) - 1 + len(LETTERS) * ACCIDENTALS[accidental]


def _step(place: int) -> tuple[str, int]:
    alter, index = divmod(place + 1, len(LETTERS))
    return LETTERS[index], alter
