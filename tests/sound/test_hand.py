"""How the hand plays: fingers that differ, plucks that vary and always in the same way, brushes, arrivals."""

from fractions import Fraction

import numpy as np
import pytest

from fifthpeg.model.bank import bank_note
from fifthpeg.model.note import Note
from fifthpeg.model.tab import Pluck, Strike
from fifthpeg.sound.hand import BRUSH_STEP_MS, FINGERS, VARIES_DB, VARIES_SHADE
from fifthpeg.sound.loudness import integrated_lufs
from fifthpeg.sound.mix import add_voice
from fifthpeg.sound.perform import perform
from fifthpeg.sound.render import RATE_HZ, render_note
from fifthpeg.sound.voices import Voice, voices
from tests.browser.stage import SLUICE_TAG
from tests.written import lick

from .licks import HOLD, performed
from .measure import centroid_hz

MIXED_TOUCHES = ("T3:2h3p2 I2:1h3 M1:2s4 T5 I2:3p0 M1:5p2 T4:0h2p0 I3:2s4 | "
                 "T3! h2 p0 - I2:3! p1 - - | T4:2 s4 s2 - M1 h2 s7 p2")


def levels_db(notes) -> list[float]:
    return [20 * np.log10(note.gain) for note in notes]


def heard(note: Note, seconds: float = 0.4) -> np.ndarray:
    """One note as its hand plays it, from its own start."""
    frames = round(seconds * RATE_HZ)
    sound, recording = bank_note(note, 0), np.zeros(frames)
    add_voice(recording, Voice(sound, 0, frames, frames + 1, note.gain, (), note.shade, 2), render_note(sound))
    return recording


class TestFingers:
    @pytest.mark.parametrize("string, fret", [(4, 0), (3, 2), (2, 3), (1, 0)])
    def test_the_thumb_is_louder_and_duller_than_the_index_and_that_than_the_middle(self, string, fret):
        """Common practice, no source."""
        sounds = {finger: plucked_by(finger, string, fret) for finger in "TIM"}
        loudness = {finger: integrated_lufs(sound, RATE_HZ) for finger, sound in sounds.items()}
        brightness = {finger: centroid_hz(sound, RATE_HZ, 9000) for finger, sound in sounds.items()}
        assert loudness["M"] < loudness["I"] < loudness["T"] < loudness["M"] + 3
        assert brightness["T"] < brightness["I"] < brightness["M"]

    def test_a_pluck_keeps_near_its_fingers_own_level_and_shade(self):
        for note in perform(lick("T3 I2 M1 T5 I2 M1 T3 M1 | T4 I3 M1 T5 I2 M1 T3 M1"), {}).notes:
            level_db, shade = FINGERS[note.finger]
            assert abs(20 * np.log10(note.gain) - level_db) <= VARIES_DB + 0.001
            assert abs(note.shade - shade) <= VARIES_SHADE + 0.001


def plucked_by(finger: str, string: int, fret: int) -> np.ndarray:
    (note,) = performed((Strike((Pluck(string, fret),)), *(HOLD,) * 7)).notes
    level_db, shade = FINGERS[finger]
    frames, recording = RATE_HZ // 2, np.zeros(RATE_HZ // 2)
    sound = bank_note(note, 0)
    add_voice(recording, Voice(sound, 0, frames, frames + 1, 10 ** (level_db / 20), (), shade, 2), render_note(sound))
    return recording


class TestVariation:
    ROLL = "\n".join(["T3 I2 M1 T5 I2 M1 T3 M1"] * 16)

    def test_no_two_plucks_of_one_note_are_alike(self):
        thirds = [note for note in perform(lick(self.ROLL), {}).notes if note.string == 3]
        assert len({(note.gain, note.shade) for note in thirds}) == len(thirds) == 32

    def test_they_differ_by_about_what_one_can_just_hear(self):
        """Standard deviation of an even spread of ±1 dB: 0.58 dB."""
        levels = levels_db(note for note in perform(lick(self.ROLL), {}).notes if note.finger == "I")
        assert np.std(levels) == pytest.approx(0.58, abs=0.15)
        assert abs(np.mean(levels)) < 0.3

    def test_level_and_brightness_vary_apart(self):
        thirds = [note for note in perform(lick(self.ROLL), {}).notes if note.string == 3]
        together = np.corrcoef(levels_db(thirds), [note.shade for note in thirds])[0, 1]
        assert abs(together) < 0.5

    def test_the_same_text_is_played_the_same(self):
        assert perform(lick(self.ROLL), {}).notes == perform(lick(self.ROLL), {}).notes

    def test_a_correction_elsewhere_changes_no_other_note(self):
        before = perform(lick("T3 I2 M1 T5 I2 M1 T3 M1 | T4 I3 M1 T5 I2 M1 T3 M1"), {}).notes
        after = perform(lick("T3 I2 M1 T5 I2:1 M1 T3 M1 | T4 I3 M1 T5 I2 M1 T3 M1"), {}).notes
        assert [one == other for one, other in zip(before, after, strict=True)].count(False) == 1

    def test_the_second_time_round_is_not_the_first_again(self):
        first, second = perform(lick("|: T3 - - - - - - - :|"), {}).notes
        assert first.gain != second.gain


class TestBrushes:
    def test_the_thumb_goes_down_to_the_first_string(self):
        assert late("T4+T3+T2+T1") == {4: 0, 3: BRUSH_STEP_MS, 2: 2 * BRUSH_STEP_MS, 1: 3 * BRUSH_STEP_MS}

    def test_a_finger_goes_up_from_the_first_string(self):
        assert late("M1+M2+M3") == {1: 0, 2: BRUSH_STEP_MS, 3: 2 * BRUSH_STEP_MS}

    @pytest.mark.parametrize("strike", ["T5+M1", "T3+I2+M1", "I2+M1"])
    def test_a_pinch_sounds_together(self, strike):
        """Of the 2 ms that strikes of a pinch may lie apart, none is used."""
        assert set(late(strike).values()) == {0}


def late(strike: str) -> dict[int, int]:
    return {note.string: note.late_ms for note in perform(lick(f"{strike} - - - - - - -"), {}).notes}


@pytest.mark.parametrize("text", [MIXED_TOUCHES, SLUICE_TAG], ids=["mixed touches", "sluice tag"])
def test_an_arrival_never_rings_louder_than_its_pluck(text):
    """Over the first 0.4 s of each."""
    pluck_lufs, checked = {}, 0
    for note in perform(lick(text), {}).notes:
        lufs = integrated_lufs(heard(note), RATE_HZ)
        if note.picked:
            pluck_lufs[note.string] = lufs
        elif note.touch != "choke":
            checked += 1
            assert lufs < pluck_lufs[note.string], note
    assert checked >= 4


def test_an_accented_arrival_may():
    pluck, arrival = voices(perform(lick("T3 h2! - - - - - -"), {}), 0, Fraction(60), RATE_HZ)
    assert arrival.gain == pluck.gain * 1.4
