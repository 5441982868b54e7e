"""A bar of backup holds the chord's own notes. Chord tones: music21's chord symbols."""

import pytest
from music21.harmony import ChordSymbol

from fifthpeg.analysis.vamp import HIGHEST_FRET, chord_shape, vamp
from fifthpeg.model.lick import Lick
from fifthpeg.model.meter import Meter
from fifthpeg.model.note import written_notes
from fifthpeg.model.tuning import TUNINGS

ROOTS = ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
KINDS = ("", "m", "7")


@pytest.mark.parametrize("tuning", TUNINGS)
@pytest.mark.parametrize("kind", KINDS)
def test_every_note_of_the_bar_is_a_note_of_the_chord(tuning, kind):
    for root in ROOTS:
        like = Lick((), tuning=TUNINGS[tuning], capo=2)
        tones = {pitch.pitchClass for pitch in ChordSymbol(root.replace("b", "-") + kind).pitches}
        sounded = {(note.midi - like.capo) % 12 for note in written_notes(vamp(root + kind, like))}
        assert sounded <= tones


@pytest.mark.parametrize(("chord", "frets"), [
    ("G", (0, 0, 0, 0)), ("C", (2, 0, 1, 2)), ("D7", (0, 2, 1, 4)), ("D", (0, 2, 3, 4)),
])
def test_the_common_shapes_of_open_g_come_out(chord, frets):
    """Common practice, no source; 4th string to 1st."""
    assert tuple(chord_shape(chord, Lick(())).values()) == frets


@pytest.mark.parametrize(("meter", "grid", "fingers"), [
    (Meter(4, 4), 8, ["T", "IM", "T", "IM"]), (Meter(3, 4), 8, ["T", "IM", "IM"]), (Meter(6, 8), 8, ["T", "IM"]),
    (Meter(2, 2), 8, ["T", "IM"]), (Meter(6, 8), 4, ["IM"]), (Meter(2, 4), 16, ["T", "IM"]),
])
def test_thumb_and_pinch_take_turns_beat_by_beat(meter, grid, fingers):
    strikes: dict[object, str] = {}
    like = Lick((), meter=meter, grid=grid)
    made = vamp("G", like, bars=2)
    for note in written_notes(made):
        strikes[note.start] = strikes.get(note.start, "") + note.finger
    assert list(strikes.values()) == fingers * 2
    assert all(bar.slot_count == meter.slots(grid) for bar in made.bars)


def test_the_bass_begins_on_the_root_where_a_low_string_has_it():
    first = [next(note for note in written_notes(vamp(chord, Lick(()))) if note.finger == "T") for chord in ("G", "D")]
    assert [note.string for note in first] == [3, 4]


def test_no_shape_reaches_further_than_it_says():
    assert max(max(chord_shape(root + kind, Lick(())).values()) for root in ROOTS for kind in KINDS) <= HIGHEST_FRET
