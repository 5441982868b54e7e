"""The backing as data: cases worked by hand, chord tones by music21 and pychord, and what holds for any lick."""

from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from fifthpeg.model.backing import BASS, GUITAR, BackingSound
from fifthpeg.model.chord import QUALITIES
from fifthpeg.model.meter import Meter
from fifthpeg.model.pitch import name_of
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.parse import parse
from fifthpeg.sound.backing import arrange, pattern
from fifthpeg.sound.perform import perform
from fifthpeg.sound.voicing import BASS_HIGHEST, BASS_LOWEST, UPPER_STRINGS, bass_pitches, stroke_pitches
from hypothesis import given, settings
from tests.generated import licks
from tests.written import lick, licks_of

CASES = sorted((Path(__file__).parents[1] / "cases" / "backing").glob("*.md"))
ROOTS = ("C", "C#", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
CHECKED_CHORDS = ("G", "C", "D7", "Em", "F", "A7", "Am", "Bm", "D", "E7", "Bb", "F#m", "G7", "Cm", "D7sus4", "Gm")
"""Those on which the two libraries are known to agree."""


def stems_of(text: str) -> dict:
    made = lick(text)
    return {stem.name: stem.notes for stem in arrange(made, perform(made, {}))}


def row(stem: str, note) -> str:
    return f"{stem} {note.start} {note.until} {' '.join(map(name_of, note.sound.pitches))}"


def classes(pitches) -> set[int]:
    return {pitch % 12 for pitch in pitches}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_a_block_is_backed_as_worked_by_hand(case):
    page, _, expected = case.read_text().partition("\n==== gives\n")
    (block,) = find_fences(page, "page.md").blocks
    read = parse(block)
    assert not read.problems
    stems = arrange(read.lick, perform(read.lick, {}))
    assert [row(stem.name, note) for stem in stems for note in stem.notes] == expected.strip().split("\n")


def test_there_are_cases_for_every_kind_of_meter():
    assert len(CASES) >= 15


def by_music21(chord: str) -> set[int]:
    from music21.harmony import ChordSymbol
    return {pitch.pitchClass for pitch in ChordSymbol(chord.replace("b", "-", 1)).pitches}


def by_pychord(chord: str) -> set[int]:
    from music21.pitch import Pitch
    from pychord import Chord
    return {Pitch(name.replace("b", "-")).pitchClass for name in Chord(chord).components()}


@pytest.mark.parametrize("chord", CHECKED_CHORDS)
@pytest.mark.parametrize("oracle", [by_music21, by_pychord])
def test_a_stroke_has_the_chord_s_tones_and_all_of_them(chord, oracle):
    assert classes(stroke_pitches(chord, 0)) == oracle(chord)


@pytest.mark.parametrize("chord", [chord for chord in CHECKED_CHORDS if "sus" not in chord])
def test_the_bass_has_the_root_and_the_perfect_fifth(chord):
    from music21.harmony import ChordSymbol
    root = ChordSymbol(chord.replace("b", "-", 1)).root().pitchClass
    assert [pitch % 12 for pitch in bass_pitches(chord, 0)] == [root, (root + 7) % 12]


@pytest.mark.parametrize("quality", QUALITIES)
@pytest.mark.parametrize("root", ROOTS)
@pytest.mark.parametrize("capo", [0, 3])
def test_a_hand_can_hold_every_chord_there_is(root, quality, capo):
    """A pitch a string, within six frets (power chords double one); all tones but, of five, the fifth."""
    from fifthpeg.model.chord import chord_pitch_classes
    pitches = stroke_pitches(root + quality, capo)
    tones = [(tone + capo) % 12 for tone in chord_pitch_classes(root + quality)]
    assert all(any(0 <= pitch - string <= 6 for string in UPPER_STRINGS) for pitch in pitches)
    assert set(tones) - classes(pitches) == ({tones[2]} if len(tones) > 4 else set())
    assert classes(pitches) <= set(tones)
    assert list(pitches) == sorted(set(pitches))
    assert len(pitches) == 4 or quality == "5"


@pytest.mark.parametrize("root", ROOTS)
def test_the_bass_stays_on_a_bass(root):
    """E1 is the open fourth string of a double bass (common practice); with the walk up to any root."""
    played = {pitch for quality in QUALITIES for pitch in bass_pitches(root + quality, 0)}
    walked = {bass_pitches(root, 0)[0] - below for below in (3, 1)}
    assert BASS_LOWEST <= min(played | walked) and max(played | walked) <= BASS_HIGHEST
    assert name_of(BASS_LOWEST) == "E1"


@pytest.mark.parametrize("meter", [Meter(count, unit) for unit in (2, 4, 8, 16) for count in range(1, 17)], ids=str)
def test_a_bar_of_any_meter_begins_with_the_bass_and_has_a_stroke(meter):
    places = pattern(meter)
    assert places[0] == (0, True)
    assert not places[-1][1]
    assert [at for at, _ in places] == sorted({at for at, _ in places})
    assert places[-1][0] < meter.quarters


def test_without_a_chord_there_is_no_backing():
    assert stems_of("T3 I2 M1 T5 I2 M1 T3 M1") == {}


def test_a_pick_up_shown_alone_has_no_backing():
    shown = licks_of("id: a\npickup: 2\n---\n[G] T4 T3 | I2 - M1 - T5 - T3 -", "show: a\nbars: 0")[1]
    assert arrange(shown, perform(shown, {})) == ()


def test_a_showing_from_the_middle_of_a_bar_keeps_its_beats():
    """Slots 3 to 8: it begins with the second beat, a stroke; the bass comes with the third, on the root."""
    shown = licks_of("id: a\n---\n[G] T3 I2 M1 T5 I2 M1 T3 M1", "show: a\nslots: 1.3-1.8")[1]
    guitar = arrange(shown, perform(shown, {}))[0].notes
    assert [(note.start, len(note.sound.pitches)) for note in guitar] == [(0, 4), (1, 1), (2, 4)]
    assert name_of(guitar[1].sound.pitches[0]) == "G2"


@settings(max_examples=60)
@given(licks())
def test_each_line_is_damped_by_its_next_note_and_ends_with_the_lick(made):
    performance = perform(made, {})
    for stem in arrange(made, performance):
        assert list(stem.notes) == sorted(stem.notes, key=lambda note: note.start)
        for note, following in pairwise([note for note in stem.notes if note.sound.line == 1]):
            assert note.until == following.start
        for note in stem.notes:
            assert 0 <= note.start < note.until <= performance.quarters
            assert isinstance(note.start, Fraction)


@settings(max_examples=60)
@given(licks())
def test_every_stroke_belongs_to_the_chord_that_is_written_over_it(made):
    from fifthpeg.model.chord import chord_pitch_classes
    performance = perform(made, {})
    for stem in arrange(made, performance):
        for note in stem.notes:
            chord = [name for start, name in performance.chords if start <= note.start][-1]
            if len(note.sound.pitches) > 1:
                tones = {(tone + made.capo) % 12 for tone in chord_pitch_classes(chord)}
                assert classes(note.sound.pitches) <= tones


@pytest.mark.parametrize("sound", [BackingSound(GUITAR, (50, 57, 60, 66)), BackingSound(BASS, (31,))])
def test_a_sound_is_found_again_by_its_name(sound):
    assert BackingSound.from_name(sound.name) == sound


@pytest.mark.parametrize("name", ["fiddle-55", "guitar", "guitar-x", "3-57-2-pick"])
def test_another_name_is_refused(name):
    with pytest.raises(ValueError):
        BackingSound.from_name(name)
