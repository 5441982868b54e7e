"""What a teacher is told of a bank: every flaw in a musician's words, and nothing of a take without one."""

import numpy as np
import pytest

from fifthpeg.model.own_bank import OwnBank
from fifthpeg.model.take_names import TakeName
from fifthpeg.sound.take_remarks import report_on

from .takes import PEAK, RATE_HZ, bank, bank_of, plucked, wav

THIRD = TakeName(3, 2)


def said_of(own: OwnBank) -> tuple[str, bool]:
    """The one remark on a bank of one file, and whether the file is of no use."""
    (remark,) = report_on(own).remarks
    return remark.says, remark.unusable


def clipped(sound: np.ndarray) -> np.ndarray:
    return np.clip(4 * sound, -PEAK, PEAK)


def test_a_good_take_gives_no_remark():
    assert report_on(bank(s3_2=wav(plucked(THIRD)))).remarks == ()


@pytest.mark.parametrize("off, says", [(13.0, "is 13 cents sharp"), (-24.0, "is 24 cents flat")])
def test_out_of_tune_is_said_in_cents(off, says):
    words, unusable = said_of(bank(s3_2=wav(plucked(THIRD, off))))
    assert says in words and not unusable


def test_a_difference_that_nobody_hears_is_not_said():
    assert report_on(bank(s3_2=wav(plucked(THIRD, 3.0)))).remarks == ()


@pytest.mark.parametrize("sound, says", [
    (clipped(plucked(THIRD)), "is clipped"),
    (plucked(THIRD, noise_db=-35), "is noisy"),
    (plucked(THIRD, seconds=0.8), "rings for 0.8 seconds")])
def test_a_flaw_is_said_and_the_take_still_used(sound, says):
    words, unusable = said_of(bank(s3_2=wav(sound)))
    assert says in words and not unusable


@pytest.mark.parametrize("sound, says", [
    (plucked(THIRD) * 1e-3, "is silent"),
    (plucked(THIRD, seconds=0.2), "less than 0.3 seconds"),
    (0.3 * np.random.default_rng(1).normal(size=RATE_HZ), "no steady note"),
    (plucked(TakeName(3, 4)), "sounds B3, and string 3, fret 2 is A3 in open G; if that is string 3, fret 4, name it `3-4.wav`"),
    (plucked(THIRD, 70.0), "sounds A#3"),
    (plucked(THIRD, -12 * 100.0), "sounds A2")])
def test_what_cannot_be_used_is_said_with_the_way_out(sound, says):
    words, unusable = said_of(bank(s3_2=wav(sound)))
    assert says in words and unusable


def test_a_file_that_is_no_wav_inside_is_said():
    assert said_of(bank(s3_2=b"ID3 something else")) == (
        "can't be used: it can't be read as a WAV file; save it again from your recording program", True)


@pytest.mark.parametrize("file_name, place, says", [
    ("G3.wav", TakeName(3, 0), "it sounds G3: name it `3-0.wav` (string 3, open) or `4-5.wav` (string 4, fret 5)"),
    ("low d.wav", TakeName(4, 0), "it sounds D3: name it `4-0.wav` (string 4, open)"),
    ("5-5.wav", TakeName(5, 0), "it is open as `5-0.wav`")])
def test_a_wrong_name_is_answered_with_the_right_one(file_name, place, says):
    words, unusable = said_of(bank_of({file_name: wav(plucked(place))}))
    assert says in words and unusable


def test_two_files_for_one_note_are_one_too_many():
    remarks = report_on(bank_of({"3-2.wav": wav(plucked(THIRD)), "s3f2.wav": wav(plucked(THIRD, 1.0))})).remarks
    assert [(remark.file_name, remark.unusable) for remark in remarks] == [("s3f2.wav", True)]
    assert remarks[0].says == "can't be used: it names string 3, fret 2, and so does `3-2.wav`; keep the better of the two"


def test_what_is_made_from_what_is_told_string_by_string():
    own = bank(s3_0=wav(plucked(TakeName(3, 0))), s3_4=wav(plucked(TakeName(3, 4))), s5_7=wav(plucked(TakeName(5, 7))))
    strings = report_on(own).strings
    assert strings[0] == "String 1: no recording that can be used; the synthesized sound stands in for the whole string"
    assert strings[2].startswith("String 3: 2 of 23 recorded; frets 1 and 2 from the open string; frets 3 and 5 to 22 from fret 4")
    assert "changed in sound: frets 8 to 22" in strings[2]
    assert strings[4].startswith("String 5: 1 of 18 recorded; frets open, 6 and 8 to 22 from fret 7")


def test_the_summary_counts():
    own = bank_of({"3-0.wav": wav(plucked(TakeName(3, 0), -17.0)), "x.wav": wav(plucked(THIRD)), "read me.txt": b"hello"})
    assert report_on(own).summary == "1 of 110 notes recorded, the farthest 17 cents out of tune; 1 file can't be used"
