"""Reading a MusicXML file back for tests: by lxml what the file says, by music21 what a music program hears."""

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import music21
import musicxml
from fifthpeg.analysis.chain import link_up
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import Note, with_fingers, written_notes
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.library import read_library
from lxml import etree

SCHEMA = Path(musicxml.__file__).parent / "generate_classes" / "musicxml_4_0.xsd"
"""The W3C Community Group's schema of MusicXML 4.0, as the package ``musicxml`` carries it."""
FINEST = 20_000
CONTENT = Path(__file__).parents[2] / "content"


def course_licks() -> list[Lick]:
    """Everything the demo course draws: licks, variants, showings and chains."""
    blocks = [block for page in sorted(CONTENT.rglob("*.md"))
              for block in find_fences(page.read_text(), page.name).blocks]
    return list(read_library(blocks, link_up=link_up).by_block.values())


def with_some_fingers(lick: Lick) -> tuple[Note, ...]:
    notes = written_notes(lick)
    return with_fingers(notes, {note.mark: "MITTT"[note.string - 1] for note in notes if note.picked})


def tree(data: bytes) -> etree._Element:
    return etree.fromstring(data)


def midi_in(pitch: etree._Element, prefix: str = "") -> int:
    """By the standard's octaves: middle C, MIDI 60, opens octave 4."""
    natural = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}[pitch.findtext(f"{prefix}step")]
    return natural + int(pitch.findtext(f"{prefix}alter") or 0) + 12 * (int(pitch.findtext(f"{prefix}octave")) + 1)


def heard(data: bytes) -> Iterator[tuple[Fraction, Fraction, Counter, Counter]]:
    """By music21: (start, length, pitches with whether they go on from before and into the next, (string, fret)s)."""
    part = music21.converter.parseData(data, format="musicxml").parts[0]
    for bar in part.getElementsByClass("Measure"):
        for element in bar.notesAndRests:
            if isinstance(element, music21.harmony.ChordSymbol):
                continue
            members = element.notes if element.isChord else [] if element.isRest else [element]
            strings = [a.number for a in element.articulations if type(a) is music21.articulations.StringIndication]
            frets = [a.number for a in element.articulations if type(a) is music21.articulations.FretIndication]
            yield (_exact(bar.offset) + _exact(element.offset), _exact(element.quarterLength),
                   Counter((note.pitch.midi, *_ties(note)) for note in members),
                   Counter(zip(strings, frets, strict=True)))


def _exact(quarters: float | Fraction) -> Fraction:
    """music21 mixes floats with fractions; no denominator of a lick comes near the limit."""
    return Fraction(quarters).limit_denominator(FINEST)


def _ties(note: music21.note.Note) -> tuple[bool, bool]:
    kind = note.tie.type if note.tie else ""
    return kind in ("stop", "continue"), kind in ("start", "continue")
