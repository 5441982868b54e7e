"""The browser's gestures against the mixer's: the same sources at the same frames."""

from fractions import Fraction

import numpy as np
import pytest

from fifthpeg.exports.player_data import pair
from fifthpeg.sound.mix import add_voice
from fifthpeg.sound.render import RATE_HZ
from fifthpeg.sound.voices import Voice, voices
from tests.browser.stage import SLUICE_TAG, WEIR_RUN, tab_of

GESTURES = {
    "picked notes and holds": WEIR_RUN,
    "every touch": SLUICE_TAG,
    "slides up and down": "T3:2s5 M1 T5:7s9 M1:5s3 T3:0 - T4:2 s7",
    "hammer-ons and pull-offs": "T4:0h2p0 I3 M1 T3:2 h3 p0 I2 M1",
    "chokes held and let down": "T2:10b1 - I2:10 b1 - r - M1 | T2:10b1r - - - I2:10b0.5 - b1 r",
    "vibrato and accents": "T3:2~! I2 M1 T5! I2:3~ - - M1",
    "rests": "T3 . I2:3 . T5+M1 - . .",
    "damped notes and chimes": "T3:x I2:x M1:12c - T5:17c I2 T3:x M1",
    "brushes": "T4+T3+T2+T1 M1+M2+M3 - T3 I1 T5 M1+M2+M3! -",
    "a repeat": "|: T3:2s4 I2 M1 T5 I2:3 - M1 T4 :|",
    "groups": "(T3 I2 M1)/2 T5 I2 (T3:2h3 -) M1 T4 I3",
    "bounce": "bounce: 62\n---\nT3:2s4 I2 M1 T5 I2:3p0 M1 T3:2~ M1",
}
TEMPOS = (Fraction(104), Fraction(156), Fraction(208), Fraction(1000, 7))


@pytest.mark.parametrize("source", GESTURES.values(), ids=GESTURES)
@pytest.mark.parametrize("tempo", TEMPOS, ids=str)
def test_sources_start_fall_and_end_at_the_recordings_frames(scripts, source, tempo):
    tab = tab_of(source)
    found = scripts.evaluate("([data, qpm]) => fifthpeg.voices(data, qpm, data.rate)", [tab.data, pair(tempo)])
    expected = voices(tab.performance, tab.lick.capo, tempo, RATE_HZ)
    assert [_frames(voice) for voice in found] == [
        (voice.sound.name, voice.start_frame, voice.ramp_frame, voice.end_frame, voice.gain, voice.shade,
         voice.shade_frames, [frame for frame, _ in voice.rates])
        for voice in expected
    ]
    for voice, reference in zip(found, expected, strict=True):
        assert [rate for _, rate in voice["rates"]] == pytest.approx([rate for _, rate in reference.rates], abs=1e-12)


def test_every_gesture_that_bends_is_among_the_cases():
    bent = [source for source in GESTURES.values()
            if any(voice.rates for voice in voices(tab_of(source).performance, 0, Fraction(120), RATE_HZ))]
    assert len(bent) >= 5


@pytest.mark.parametrize("shade", [0.0, 0.15, -0.11])
def test_a_voices_samples_are_those_of_the_recordings(scripts, shade):
    draw = np.random.default_rng(3)
    sound = draw.uniform(-1, 1, 3000)
    rates = ((128, 2 ** (0.4 / 12)), (256, 2 ** (2 / 12)), (1024, 2 ** (-1 / 12)))
    voice = Voice(None, 70, 1500, 1700, 1.4, rates, shade, 4)
    recording = np.zeros(2000)
    add_voice(recording, voice, sound)
    samples = scripts.evaluate(
        "([voice, sound]) => [...fifthpeg.mixer.samplesOf(voice, sound)]",
        [{"start": 70, "ramp": 1500, "end": 1700, "gain": 1.4, "rates": voice.rates, "shade": shade,
          "shadeFrames": 4}, sound.tolist()])
    assert np.abs(recording[70:70 + len(samples)] - samples).max() < 1e-6
    assert not recording[70 + len(samples):].any()


def test_notes_without_a_hand_are_played_plainly(scripts):
    data = tab_of("T3:2 I2 M1 T5 - - - -").data
    bare = data | {"notes": [{key: value for key, value in note.items() if key != "hand"} for note in data["notes"]]}
    found = scripts.evaluate("data => fifthpeg.voices(data, [120, 1], data.rate)", bare)
    assert {(voice["gain"], voice["shade"]) for voice in found} == {(1, 0)}


def test_a_short_sound_ends_where_it_ends(scripts):
    length = scripts.evaluate(
        "fifthpeg.mixer.samplesOf({start: 0, ramp: 900, end: 1000, gain: 1, rates: []}, [0.5, 0.25]).length")
    assert length == 2


def test_playing_from_an_arrival_begins_where_its_string_was_sounded(scripts):
    tab = tab_of("T2:10 b1 - r - M1 T3:2 h3")
    starts = scripts.evaluate(
        "notes => notes.map(note => fifthpeg.voices.startOf(notes, note.mark))", tab.data["notes"])
    assert starts == [[0, 1], [0, 1], [0, 1], [5, 2], [3, 1], [7, 2]]


def _frames(voice: dict) -> tuple:
    return (voice["sound"], voice["start"], voice["ramp"], voice["end"], voice["gain"], voice["shade"],
            voice["shadeFrames"], [frame for frame, _ in voice["rates"]])
