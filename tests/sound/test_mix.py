"""The mix as a listener hears it: the right notes, at the right times, one after another on each string."""

from fractions import Fraction

import numpy as np
import pytest

from fifthpeg.model.bank import BankNote
from fifthpeg.model.performance import Performance
from fifthpeg.model.pitch import frequency_hz
from fifthpeg.model.tab import HAMMER_ON, SLIDE, Pluck, Strike
from fifthpeg.sound.mix import mix, sounds_needed
from fifthpeg.sound.render import RATE_HZ, render_bank, render_note

from .licks import (
    FORWARD_ROLL, HOLD, REST, SLUICE_TAG, WEIR_RUN, landing_inside, performed, pluck)
from .measure import band_energy, cents, note_that_started, onsets, phase_advance_hz

QPM = Fraction(160)
EIGHTH_SECONDS = 60 / 160 / 2


def mixed(performance: Performance, qpm: Fraction = QPM) -> np.ndarray:
    return mix(performance, 0, render_bank(sounds_needed(performance, 0)), qpm)


def seconds(quarters: Fraction, qpm: Fraction = QPM) -> float:
    return float(quarters * 60 / qpm)


def by_its_hand(note, sound: np.ndarray) -> np.ndarray:
    """(1 − b)·x[i] + b·x[i − 2] at 22 050 a second, times the gain: rule S2, written out."""
    two_later = np.concatenate([[0.0, 0.0], sound[:-2]])
    return sound * (note.gain * (1 - note.shade)) + two_later * (note.gain * note.shade)


@pytest.mark.parametrize("qpm", [80, 160, 240])
@pytest.mark.parametrize("bars", [WEIR_RUN, FORWARD_ROLL], ids=["weir run", "forward roll"])
def test_every_pluck_is_heard_within_5_ms_and_nothing_else(bars, qpm):
    performance = performed(*bars)
    heard = onsets(mixed(performance, Fraction(qpm)), RATE_HZ)
    written = np.array([seconds(note.start, Fraction(qpm)) for note in performance.notes])
    assert len(heard) == len(written)
    assert np.abs(heard - written).max() <= 0.005


@pytest.mark.parametrize("bars", [WEIR_RUN, FORWARD_ROLL, (SLUICE_TAG[2],)],
                         ids=["weir run", "forward roll", "ending"])
def test_the_note_heard_is_the_note_written(bars):
    performance = performed(*bars)
    sound = mixed(performance)
    written = {note.start: {other.midi for other in performance.notes if other.start == note.start}
               for note in performance.notes}
    heard = {start: note_that_started(sound, RATE_HZ, seconds(start), seconds(start) + EIGHTH_SECONDS)
             for start in written}
    assert all(heard[start] in midis for start, midis in written.items()), (heard, written)


def test_a_string_plucked_again_sounds_only_its_new_note():
    performance = performed((pluck(3, 2), pluck(3), *(HOLD,) * 6))
    second = round(EIGHTH_SECONDS * RATE_HZ)
    alone = by_its_hand(performance.notes[1], render_note(BankNote(3, 55, 0)))
    assert np.array_equal(mixed(performance)[second:second + 10_000], alone[:10_000])


def test_an_open_string_rings_on_under_the_next_pluck():
    performance = performed((pluck(1), pluck(3), *(HOLD,) * 6))
    second = round(EIGHTH_SECONDS * RATE_HZ)
    first, third = (by_its_hand(note, render_note(BankNote(note.string, note.midi, 0))) for note in performance.notes)
    both = first[second:second + 10_000] + third[:10_000]
    assert np.allclose(mixed(performance)[second:second + 10_000], both, atol=1e-12)


def test_a_rest_is_silent():
    sound = mixed(performed((pluck(3), pluck(1), *(REST,) * 6)))
    assert np.all(sound[round(3 * EIGHTH_SECONDS * RATE_HZ):] == 0)


def test_the_recording_rings_out_for_a_second():
    sound = mixed(performed((*(HOLD,) * 7, pluck(5))))
    assert len(sound) == round(4 * 60 / 160 * RATE_HZ) + RATE_HZ
    assert np.abs(sound[-RATE_HZ // 2:]).max() > 1e-4
    assert np.abs(sound[-10:]).max() < 1e-4


def test_a_hammer_on_is_heard_as_an_attack_of_its_own():
    """Above 1 kHz the 20 ms after it hold more than twice the energy of the 20 ms before."""
    performance = performed((landing_inside(3, 2, HAMMER_ON, 3), *(HOLD,) * 7))
    sound, frames = mixed(performance, Fraction(80)), round(0.02 * RATE_HZ)
    at = round(seconds(performance.notes[1].start, Fraction(80)) * RATE_HZ)
    before, after = (band_energy(sound[start:start + frames], RATE_HZ, 1000, 6000) for start in (at - frames, at))
    assert after > 2 * before


def test_a_slide_arrives_in_tune():
    performance = performed((landing_inside(3, 2, SLIDE, 5), *(HOLD,) * 7))
    arrived = mixed(performance, Fraction(60))[round(0.25 * RATE_HZ):]
    assert abs(cents(phase_advance_hz(arrived, RATE_HZ, frequency_hz(60)), frequency_hz(60))) < 0.1


def test_a_slide_passes_the_frets_between():
    """Just before the arrival the fourth fret sounds, a whole step above where the slide began."""
    performance = performed((landing_inside(3, 2, SLIDE, 5), *(HOLD,) * 7))
    sound = mixed(performance, Fraction(60))
    last_step = slice(round(0.222 * RATE_HZ), round(0.25 * RATE_HZ))
    partials = {fret: 4 * frequency_hz(55 + fret) for fret in (2, 4)}
    energy = {fret: band_energy(sound[last_step], RATE_HZ, hz * 0.97, hz * 1.03) for fret, hz in partials.items()}
    assert energy[4] > 4 * energy[2]


def test_a_choke_of_a_half_step_sounds_a_half_step_higher():
    bend = Strike((Pluck(2, 10, choke_semitones=Fraction(1)),))
    sound = mixed(performed((bend, *(HOLD,) * 7)), Fraction(60))
    heard_hz = phase_advance_hz(sound, RATE_HZ, frequency_hz(70), first_seconds=0.2)
    assert abs(cents(heard_hz, frequency_hz(70))) < 0.1


def test_a_tempo_changes_times_and_not_pitches():
    performance = performed((pluck(3, 2), *(HOLD,) * 7))
    slow, fast = mixed(performance, Fraction(60)), mixed(performance, Fraction(90))
    assert np.array_equal(slow[:RATE_HZ], fast[:RATE_HZ])


def test_the_same_performance_gives_the_same_samples():
    performance = performed(*SLUICE_TAG)
    assert np.array_equal(mixed(performance), mixed(performance))


def test_a_missing_bank_note_is_named():
    with pytest.raises(KeyError, match="string=3"):
        mix(performed((pluck(3, 2), *(HOLD,) * 7)), 0, {}, QPM)


def test_each_sound_is_asked_for_once():
    needed = sounds_needed(performed(*WEIR_RUN), 0)
    assert len(set(needed)) == len(needed) == 8


def test_a_bar_too_fast_to_play_is_still_mixed():
    bar = (landing_inside(3, 2, SLIDE, 9), pluck(2, 10, vibrato=True), *(pluck(3),) * 6)
    assert np.isfinite(mixed(performed(bar), Fraction(100_000))).all()
