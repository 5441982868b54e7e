"""Which strings a course wants to be tuned to."""

from fifthpeg.model.tuner import OpenString, Raised, tuner_sections
from tests.written import lick


def test_open_g_is_there_in_an_empty_course():
    (section,) = tuner_sections([])
    assert section.tuning.name == "open G"
    assert [string.words for string in section.strings] == [
        "String 1, D4, 293.7 Hz", "String 2, B3, 246.9 Hz", "String 3, G3, 196.0 Hz", "String 4, D3, 146.8 Hz",
        "String 5, G4, 392.0 Hz"]


def test_other_tunings_come_after_it_each_once():
    licks = [lick("tuning: sawmill\n---\nT3 - - - - - - -"), lick("tuning: double C\n---\nT3 - - - - - - -"), lick("tuning: G4 D3 G3 C4 D4\n---\nT3 - - - - - - -"), lick("T3 - - - - - - -")]
    assert [section.tuning.name for section in tuner_sections(licks)] == ["open G", "double C", "sawmill"]


def test_a_tuning_nobody_has_named_is_called_by_its_pitches():
    sections = tuner_sections([lick("tuning: G4 C3 G3 B3 E4\n---\nT3 - - - - - - -")])
    assert [string.midi for string in sections[1].strings] == [64, 59, 55, 48, 67]
    assert sections[1].tuning.name == "G4 C3 G3 B3 E4"


def test_a_capo_is_told_with_the_licks_that_use_it():
    """Open G with a capo at 2 and the short string at 7: 69 52 57 61 64 (makers' pages); left down, it stays at G4."""
    two, left = "capo: 2\ntitle: {}\n---\nT3 - - - - - - -", "capo: 2\nfifth: 0\ntitle: Left down\n---\nT3 - - - - - - -"
    (section,) = tuner_sections([lick(two.format("One")), lick(two.format("Two")), lick(left), lick(two.format("One"))])
    assert section.raised == ((Raised(2), ("One", "Two")), (Raised(2, 0), ("Left down",)))
    assert section.sounding(Raised(2)) == (69, 52, 57, 61, 64)
    assert section.sounding(Raised(2, 0)) == (67, 52, 57, 61, 64)


def test_strings_at_one_pitch_share_a_tone_but_not_a_pluck():
    one, other = OpenString(1, 62), OpenString(4, 62)
    assert one.tone == other.tone and one.pluck != other.pluck
