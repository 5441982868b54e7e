"""A teacher's own takes as notes: in tune, on time, as loud as the others, on all strings that have any."""

import numpy as np
import pytest
from scipy.signal import resample_poly

from fifthpeg.model.bank import BankNote
from fifthpeg.model.own_bank import OwnBank
from fifthpeg.model.pitch import frequency_hz
from fifthpeg.model.take_names import TakeName
from fifthpeg.model.tuning import TUNINGS
from fifthpeg.sound.loudness import integrated_lufs
from fifthpeg.sound.own_bank import own_note
from fifthpeg.sound.render import render_note
from fifthpeg.sound.resampling import resampled
from fifthpeg.sound.take import LEAD_SECONDS, onset_frame, read_wav
from fifthpeg.sound.take_stock import take_stock
from fifthpeg.sound.touches import LEGATO

from .measure import band_energy, cents, falls_by_db, karplus_strong, phase_advance_hz
from .takes import RATE_HZ, bank, plucked, wav

WITHIN_CENTS = 0.1
OURS_HZ = 22_050
OPEN_STRINGS = {string: TakeName(string, 0) for string in (1, 2, 3, 4, 5)}


def five_strings() -> OwnBank:
    """Only the open strings, each out of tune in its own way."""
    return bank(**{f"s{string}_0": wav(plucked(name, cents=off))
                   for (string, name), off in zip(OPEN_STRINGS.items(), (-31.0, 12.5, 44.0, -7.0, 0.0), strict=True)})


@pytest.fixture(scope="module")
def own() -> OwnBank:
    return five_strings()


def error_cents(sound: np.ndarray, midi: int, rate_hz: int = OURS_HZ) -> float:
    return cents(phase_advance_hz(sound, rate_hz, frequency_hz(midi)), frequency_hz(midi))


@pytest.mark.parametrize("off", [-49.0, -12.34, 0.0, 3.21, 49.0])
@pytest.mark.parametrize("place", [TakeName(4, 0), TakeName(3, 2), TakeName(2, 10), TakeName(1, 17), TakeName(5, 7)])
def test_how_far_a_take_is_out_of_tune_is_measured(place, off):
    heard = take_stock(bank(**{f"s{place.string}_{place.fret}": wav(plucked(place, off))})).heard[place]
    assert heard.cents_off == pytest.approx(off, abs=WITHIN_CENTS)


@pytest.mark.parametrize("string", OPEN_STRINGS)
@pytest.mark.parametrize("rate_hz", [22_050, 48_000])
def test_a_detuned_take_comes_out_in_tune(own, string, rate_hz):
    midi = OPEN_STRINGS[string].midi
    assert abs(error_cents(own_note(BankNote(string, midi, 0), rate_hz, own), midi, rate_hz)) <= WITHIN_CENTS


@pytest.mark.parametrize("string, fret", [(1, 3), (2, 1), (3, 5), (4, 7), (5, 8)])
def test_a_missing_fret_is_made_from_its_neighbour_and_is_in_tune(own, string, fret):
    midi = TakeName(string, fret).midi
    assert abs(error_cents(own_note(BankNote(string, midi, fret), OURS_HZ, own), midi)) <= WITHIN_CENTS


@pytest.mark.parametrize("tuning", TUNINGS.values(), ids=lambda tuning: tuning.name)
def test_other_tunings_are_made_from_the_takes_of_open_g(own, tuning):
    errors = [error_cents(own_note(BankNote(string, tuning.open_midi(string), 0), OURS_HZ, own), tuning.open_midi(string))
              for string in OPEN_STRINGS]
    assert max(map(abs, errors)) <= WITHIN_CENTS


@pytest.mark.parametrize("touch", LEGATO)
def test_notes_of_the_left_hand_are_in_tune_and_softer_than_their_pluck(own, touch):
    pluck, landed = (own_note(BankNote(3, 57, 2, how), OURS_HZ, own) for how in ("pick", touch))
    assert abs(error_cents(landed, 57)) <= WITHIN_CENTS
    assert integrated_lufs(landed, OURS_HZ) < integrated_lufs(pluck, OURS_HZ)


@pytest.mark.parametrize("fret, midi, partial", [(12, 67, 2), (7, 74, 3), (5, 79, 4), (4, 83, 5)])
def test_a_chime_keeps_only_the_partials_that_its_node_leaves(own, fret, midi, partial):
    """Chimes at 12, 7, 5 and 4 sound an octave, an octave and a fifth, two octaves, and a third more: partials 2 to 5."""
    chime = own_note(BankNote(3, midi, fret, "chime", partial), OURS_HZ, own)
    open_hz = frequency_hz(55)
    gone = band_energy(chime, OURS_HZ, 0.9 * open_hz, 1.1 * open_hz)
    left = band_energy(chime, OURS_HZ, 0.97 * frequency_hz(midi), 1.03 * frequency_hz(midi))
    assert abs(error_cents(chime, midi)) <= WITHIN_CENTS
    assert gone < left / 1000


def test_a_damped_pluck_dies_at_once(own):
    damped, pluck = own_note(BankNote(3, 0, 2, "damped"), OURS_HZ, own), own_note(BankNote(3, 57, 2), OURS_HZ, own)
    assert falls_by_db(damped, OURS_HZ, 20) < 0.1 < falls_by_db(pluck, OURS_HZ, 20)


@pytest.mark.parametrize("touch", ["pick", *LEGATO, "chime", "damped"])
def test_every_touch_is_as_loud_and_as_long_as_the_synthesized_one(own, touch):
    note = BankNote(3, {"damped": 0, "chime": 67}.get(touch, 57), 12 if touch == "chime" else 2, touch)
    ours, theirs = own_note(note, OURS_HZ, own), render_note(note, OURS_HZ)
    loudness = [integrated_lufs(sound[:round(0.4 * OURS_HZ)], OURS_HZ) for sound in (ours, theirs)]
    assert loudness[0] == pytest.approx(loudness[1], abs=1.0)
    assert len(ours) == len(theirs) and np.abs(ours[-20:]).max() <= 2 / 32768


def test_samples_are_those_that_16_bits_can_hold(own):
    sound = own_note(BankNote(3, 55, 0), OURS_HZ, own)
    assert np.array_equal(sound * 32768, np.rint(sound * 32768)) and np.abs(sound).max() < 1


def test_a_string_without_a_take_is_left_to_the_synthesized_bank():
    own = bank(s3_0=wav(plucked(TakeName(3, 0))))
    assert own_note(BankNote(3, 57, 2), OURS_HZ, own) is not None
    assert own_note(BankNote(2, 59, 0), OURS_HZ, own) is None


@pytest.mark.parametrize("lead_seconds", [0.0, 0.013, 0.4, 1.7])
@pytest.mark.parametrize("rate_hz", [22_050, 44_100, 96_000])
@pytest.mark.parametrize("noise_db", [-90.0, -50.0])
def test_the_pluck_is_found_within_a_millisecond(lead_seconds, rate_hz, noise_db):
    """The bound that generated onsets keep to against a score."""
    sound = plucked(TakeName(3, 2), rate_hz=rate_hz, lead_seconds=lead_seconds, noise_db=noise_db)
    assert abs(onset_frame(sound, rate_hz) / rate_hz - lead_seconds) <= 0.001


def test_a_knock_on_the_microphone_is_not_taken_for_the_pluck():
    sound = plucked(TakeName(3, 0), lead_seconds=0.8)
    knock = round(0.3 * RATE_HZ)
    sound[knock:knock + 60] += 0.5 * np.hanning(60)
    assert onset_frame(sound, RATE_HZ) / RATE_HZ == pytest.approx(0.8, abs=0.001)


def test_a_note_begins_at_once(own):
    """The pick's own attack is the first thing heard, as in the synthesized bank."""
    sound = own_note(BankNote(3, 55, 0), OURS_HZ, own)
    loud = np.flatnonzero(np.abs(sound) > 0.1 * np.abs(sound).max())
    assert loud[0] / OURS_HZ <= LEAD_SECONDS + 0.001


@pytest.mark.parametrize("bits", [16, 24, 32])
@pytest.mark.parametrize("channels", [1, 2])
def test_all_kinds_of_wav_are_read_alike(bits, channels):
    sound = plucked(TakeName(3, 0), seconds=0.5)
    written = np.stack([0.1 * sound, -sound], axis=1) if channels == 2 else sound
    samples, rate_hz = read_wav(wav(written, bits=bits))
    assert rate_hz == RATE_HZ
    assert np.abs(np.abs(samples) - np.abs(sound)).max() <= 1.01 / 32768


def test_the_louder_channel_is_taken_and_no_phase_cancels_it():
    sound = plucked(TakeName(3, 0), seconds=0.5)
    samples, _ = read_wav(wav(np.stack([sound, -0.99 * sound], axis=1)))
    assert np.allclose(samples, sound, atol=1 / 32768)


def test_nothing_above_the_band_folds_over():
    """A string played back an octave lower rate keeps what scipy's own filtered conversion keeps."""
    string = karplus_strong(1000.0, 88_200, 1.0)
    ours, theirs = resampled(string, 4.0), resample_poly(string, 1, 4)
    ours, theirs = ours[2000:12_000], theirs[2000:12_000]
    assert np.sqrt(np.mean((ours - theirs) ** 2)) < 0.03 * np.sqrt(np.mean(theirs ** 2))
