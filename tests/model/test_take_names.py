"""Names of a teacher's recordings: string and fret, in the spellings people use."""

import pytest

from fifthpeg.model.take_names import BadName, TakeName, all_take_names, read_name


@pytest.mark.parametrize("file_name", [
    "3-2.wav", "3_2.wav", "3 2.wav", "3.2.wav", "3-02.WAV", "s3f2.wav", "S3-F2.wav", "string 3 fret 2.wav",
    "string3-fret2.wav", "String_3_fret_2.Wav", "3 fret 2.wav", "str3fr2.wav", "3, 2.wav"])
def test_one_note_is_named_in_many_ways(file_name):
    assert read_name(file_name) == TakeName(3, 2)


@pytest.mark.parametrize("file_name, string, fret", [
    ("4-0.wav", 4, 0), ("4-open.wav", 4, 0), ("string 4 open.wav", 4, 0), ("5-open.wav", 5, 0), ("5-6.wav", 5, 6), ("1-22.wav", 1, 22)])
def test_open_strings_and_the_ends_of_the_neck(file_name, string, fret):
    assert read_name(file_name) == TakeName(string, fret)


@pytest.mark.parametrize("file_name, says", [
    ("G3.wav", "string and fret"), ("32.wav", "string and fret"), ("3-2-loud.wav", "string and fret"), ("3.wav", "string and fret"),
    ("6-2.wav", "no string 6"), ("0-2.wav", "no string 0"), ("3-23.wav", "no fret 23"),
    ("5-3.wav", "no fret 3"), ("5-5.wav", "open as `5-0.wav`"), ("3-2.mp3", "only WAV"), ("3-2.flac", "only WAV")])
def test_what_is_wrong_with_a_name_is_said(file_name, says):
    found = read_name(file_name)
    assert isinstance(found, BadName) and says in found.says


@pytest.mark.parametrize("file_name", ["notes.txt", ".DS_Store", "README", "3-2.wav.part", ".wav"])
def test_what_is_no_recording_is_passed_over(file_name):
    assert read_name(file_name) is None


def test_every_note_of_the_neck_has_a_name_that_reads_back():
    """Four strings of 23 notes; the short string has no frets 1 to 5 (a banjo's neck: common practice, no source)."""
    names = all_take_names()
    assert len(names) == len(set(names)) == 4 * 23 + 18
    assert [read_name(name.file_name) for name in names] == list(names)


def test_pitches_are_those_of_open_g():
    """G4 D3 G3 B3 D4 from the 5th string (see test_pitch); the short string's fret 7 is two half steps up, A4."""
    assert [TakeName(string, 0).midi for string in (5, 4, 3, 2, 1)] == [67, 50, 55, 59, 62]
    assert (TakeName(5, 7).midi, TakeName(3, 2).midi) == (69, 57)
