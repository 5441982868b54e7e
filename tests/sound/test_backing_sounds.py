"""The backing's sounds: in tune, level with one another, quiet at both ends, the same every time; and its stems."""

import hashlib
import os
import subprocess
import sys
from fractions import Fraction

import numpy as np
import pytest
from fifthpeg.model.backing import BASS, GUITAR, BackingSound
from fifthpeg.model.pitch import frequency_hz
from fifthpeg.sound.backing import arrange
from fifthpeg.sound.backing_sounds import INSTRUMENTS, modes_of_string, render_backing
from fifthpeg.sound.loudness import integrated_lufs
from fifthpeg.sound.perform import perform
from fifthpeg.sound.render import RATE_HZ
from fifthpeg.sound.stems import add_stem, backing_sounds_needed, stem_voices
from fifthpeg.sound.voices import length_frames
from fifthpeg.sound.voicing import BASS_HIGHEST, BASS_LOWEST, stroke_pitches
from tests.written import lick

from .measure import cents, onsets, phase_advance_hz

SINGLE = ([BackingSound(BASS, (midi,)) for midi in range(BASS_LOWEST, BASS_HIGHEST + 1)]
          + [BackingSound(GUITAR, (midi + 12,)) for midi in range(BASS_LOWEST, BASS_HIGHEST + 1)])
STROKES = [BackingSound(GUITAR, stroke_pitches(chord, 0)) for chord in ("G", "C", "D7", "Am", "F#m", "Cadd9", "G5")]
WALK = "tempo: 200\n---\n[G] T3 - I2 - M1 - T5 - | [C] T4:2 - I2:1 - M1:2 - T5 -"


def name(sound: BackingSound) -> str:
    return sound.name


@pytest.mark.parametrize("sound", SINGLE, ids=name)
@pytest.mark.parametrize("rate_hz", [22_050, 44_100])
def test_every_note_is_in_tune(sound, rate_hz):
    """Within 0.1 cent of equal temperament (ISO 16), by the phase advance of its first partial."""
    wanted_hz = frequency_hz(sound.pitches[0])
    heard_hz = phase_advance_hz(render_backing(sound, rate_hz), rate_hz, wanted_hz, window_seconds=0.3)
    assert abs(cents(heard_hz, wanted_hz)) <= 0.1


@pytest.mark.parametrize("sound", STROKES, ids=name)
def test_every_string_of_a_stroke_is_in_tune(sound):
    """By the model itself: four strings at once can't be told apart to a hundredth of a cent."""
    for midi in sound.pitches:
        first = modes_of_string(INSTRUMENTS[GUITAR], midi, RATE_HZ, 0.0).frequency_hz[0]
        assert abs(cents(first, frequency_hz(midi))) <= 0.01


@pytest.mark.parametrize("sound", STROKES, ids=name)
def test_a_stroke_has_its_pitches_and_no_others_for_lowest_partials(sound):
    """Over the lowest octave, where no harmonic of one string falls on another's place."""
    samples = render_backing(sound, RATE_HZ)
    spectrum = np.abs(np.fft.rfft(samples * np.hanning(len(samples)), 1 << 17))
    at = {midi: spectrum[round(frequency_hz(midi) * (1 << 17) / RATE_HZ)] for midi in range(48, 62)}
    between = {midi for midi in at if midi not in sound.pitches and sound.pitches[0] <= midi < sound.pitches[0] + 12}
    assert min(at[midi] for midi in sound.pitches if midi in at) > 3 * max(at[midi] for midi in between)


@pytest.mark.parametrize("sound", [*SINGLE, *STROKES], ids=name)
def test_a_sound_begins_and_ends_at_nothing_and_has_room_above(sound):
    samples = render_backing(sound, RATE_HZ)
    assert np.abs(samples[:2]).max() < 0.002
    assert np.abs(samples[-20:]).max() <= 2 / 32768
    assert 0.03 < np.abs(samples).max() < 0.25


def test_notes_of_one_instrument_are_equally_loud():
    for instrument in (GUITAR, BASS):
        heard = [integrated_lufs(render_backing(sound, RATE_HZ)[:round(0.4 * RATE_HZ)], RATE_HZ)
                 for sound in SINGLE if sound.instrument == instrument]
        assert max(heard) - min(heard) < 1.0


def test_the_bass_is_darker_than_the_guitar_and_the_guitar_than_the_banjo():
    from fifthpeg.model.bank import BankNote
    from fifthpeg.sound.render import render_note
    banjo, guitar, bass = (_centre_hz(samples) for samples in (
        render_note(BankNote(4, 50, 0)), render_backing(BackingSound(GUITAR, (50,)), RATE_HZ),
        render_backing(BackingSound(BASS, (38,)), RATE_HZ)))
    assert banjo > 1.5 * guitar > 3 * bass


def _centre_hz(samples: np.ndarray) -> float:
    """Centre of gravity of the power spectrum over the first 300 ms."""
    power = np.abs(np.fft.rfft(samples[:round(0.3 * RATE_HZ)])) ** 2
    return float(power @ np.fft.rfftfreq(round(0.3 * RATE_HZ), 1 / RATE_HZ) / power.sum())


def test_below_the_lowest_string_there_is_nothing():
    with pytest.raises(ValueError, match="27"):
        render_backing(BackingSound(BASS, (27,)), RATE_HZ)


def test_the_same_sound_every_time_in_steps_of_16_bits():
    for sound in (SINGLE[0], STROKES[0]):
        samples = render_backing(sound, RATE_HZ)
        assert np.array_equal(samples, render_backing(sound, RATE_HZ))
        assert np.array_equal(samples * 32768, np.rint(samples * 32768))


def fingerprint() -> str:
    """Of a few sounds of both instruments."""
    sounds = (*SINGLE[::7], *STROKES[:3])
    return hashlib.sha256(b"".join(render_backing(sound, RATE_HZ).tobytes() for sound in sounds)).hexdigest()


def test_threads_change_no_sample():
    def with_threads(count: int) -> str:
        limits = {name: str(count) for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")}
        paths = {"PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
        code = f"from {__name__} import fingerprint; print(fingerprint())"
        return subprocess.run([sys.executable, "-c", code], env={**os.environ, **limits, **paths},
                              capture_output=True, text=True, check=True).stdout.strip()
    assert with_threads(1) == with_threads(2) == fingerprint()


def mixed(text: str, tempo=Fraction(200)):
    made = lick(text)
    performance = perform(made, {})
    stems = arrange(made, performance)
    bank = {sound: render_backing(sound, RATE_HZ) for sound in backing_sounds_needed(stems)}
    frames = length_frames(performance, tempo, RATE_HZ)
    return performance, stems, [add_stem(np.zeros(frames), stem, performance, bank, tempo, RATE_HZ) for stem in stems]


def test_strokes_and_bass_notes_are_heard_when_they_are_written():
    """By a spectral-flux detector that knows nothing of the arrangement; within 12 ms, since a stroke takes 24."""
    performance, stems, recordings = mixed("tempo: 100\n---\n[G] T3 - I2 - M1 - T5 - | [C] T4:2 - I2:1 - M1:2 - T5 -", Fraction(100))
    written = [float(note.start) * 60 / 100 for note in stems[0].notes]
    assert onsets(recordings[0], RATE_HZ, apart_seconds=0.2) == pytest.approx(written, abs=0.012)


def test_no_stem_is_louder_than_it_may_be():
    for recording in mixed(WALK)[2]:
        assert 0.03 < np.abs(recording).max() < 0.5


def test_the_bass_line_is_one_note_at_a_time():
    performance, stems, _ = mixed(WALK)
    for stem in stems:
        for line in (1, 2):
            voices = [voice for voice in stem_voices(stem, performance.quarters, Fraction(200), RATE_HZ)
                      if voice.sound.line == line]
            assert all(one.end_frame <= other.start_frame + 0.025 * RATE_HZ for one, other in zip(voices, voices[1:]))


def test_nothing_clicks_where_a_note_is_damped():
    """The largest step between two samples of the mix is that of the sounds themselves."""
    _, stems, recordings = mixed(WALK)
    for stem, recording in zip(stems, recordings, strict=True):
        alone = max(np.abs(np.diff(render_backing(note.sound, RATE_HZ))).max() for note in stem.notes)
        assert np.abs(np.diff(recording)).max() < 1.5 * alone
