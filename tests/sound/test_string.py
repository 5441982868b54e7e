"""Partials of a stiff string, and how they die away."""

from math import pi

import numpy as np
import pytest

from fifthpeg.model.bank import BankNote
from fifthpeg.model.pitch import frequency_hz
from fifthpeg.model.tuning import TUNINGS
from fifthpeg.sound.body import Modes, bridge_admittance
from fifthpeg.sound.render import RATE_HZ, render_note, sum_modes
from fifthpeg.sound.string import decay_of, partials_of, span_of

from .measure import (
    band_energy, cents, centroid_hz, decay_per_second, delay_line_string, falls_by_db, loop_taps_for,
    phase_advance_hz, rise_seconds)


def fletcher_b(diameter_m: float, length_m: float, f0_hz: float) -> float:
    """π³·E·d⁴ / (64·T·L²) for steel (E 200 GPa, 7850 kg/m³), after Fletcher, JASA 36, 1964."""
    tension_n = 7850 * pi * diameter_m ** 2 / 4 * (2 * length_m * f0_hz) ** 2
    return pi ** 3 * 2e11 * diameter_m ** 4 / (64 * tension_n * length_m ** 2)


@pytest.mark.parametrize("string_number, midi, inch", [(1, 62, 0.009), (2, 59, 0.011), (3, 55, 0.013)])
def test_partials_are_stretched_as_fletcher_says(string_number, midi, inch):
    b = fletcher_b(inch * 0.0254, 0.66675, frequency_hz(midi))
    sound = render_note(BankNote(string_number, midi, 0))
    for n in (2, 3, 5, 9, 12):
        wanted_hz = n * frequency_hz(midi) * np.sqrt((1 + b * n * n) / (1 + b))
        heard_hz = phase_advance_hz(sound, RATE_HZ, wanted_hz, apart_seconds=0.1, window_seconds=0.15)
        assert abs(cents(heard_hz, wanted_hz)) < 0.1


def test_a_high_fret_is_stretched_more_than_the_open_string():
    open_string, twelfth = span_of(1, 62, 0), span_of(1, 74, 12)
    assert twelfth.stiffness == pytest.approx(4 * open_string.stiffness)


@pytest.mark.parametrize("string_number, midi, pounds", [(1, 62, 11.0), (2, 59, 11.7), (3, 55, 10.3), (5, 67, 11.0)])
def test_tensions_are_those_of_a_light_set(string_number, midi, pounds):
    """Common practice, no source: a light set pulls about so hard in open G."""
    assert span_of(string_number, midi, 0).tension_n / 4.448 == pytest.approx(pounds, abs=0.2)


def test_no_partial_lies_where_it_would_fold_over():
    highest_hz = partials_of(span_of(1, 84, 22), RATE_HZ).frequency_hz.max()
    assert highest_hz < RATE_HZ / 2


@pytest.mark.parametrize("drop_db, fastest, slowest", [(10, 0.094, 0.315), (20, 0.216, 0.872)])
def test_notes_die_away_as_fast_as_a_banjos(drop_db, fastest, slowest):
    """Energy of the FluidR3 sound font's banjo falls 10 dB in 94–315 ms, 20 dB in 216–872 ms, G5 down to D3."""
    plucks = [BankNote(4, 50, 0), BankNote(3, 55, 0), BankNote(2, 59, 0), BankNote(1, 62, 0), BankNote(5, 67, 0),
              BankNote(1, 69, 7), BankNote(1, 74, 12), BankNote(1, 79, 17)]
    times = [falls_by_db(render_note(note), RATE_HZ, drop_db) for note in plucks]
    assert fastest <= min(times) and max(times) <= slowest


def test_higher_notes_die_away_sooner():
    along_the_first_string = [falls_by_db(render_note(BankNote(1, 62 + fret, fret)), RATE_HZ, 20)
                              for fret in (0, 5, 9, 14, 18, 22)]
    assert along_the_first_string == sorted(along_the_first_string, reverse=True)


NEAR_2_KHZ = [(1, 62, 7), (2, 59, 8), (3, 55, 10), (4, 50, 13), (5, 67, 5)]


@pytest.mark.parametrize("string_number, midi, partial", NEAR_2_KHZ)
def test_partials_die_away_as_on_a_delay_line(string_number, midi, partial):
    """Against a string of another kind (Jaffe & Smith 1983), at its two design points, the fundamental and a partial
    near 2 kHz. There each return of the wave leaves (1 − Z·Y)/(1 + Z·Y) at the bridge, the reflection off a resistive
    load (J. O. Smith, Physical Audio Signal Processing), and what air and wire leave of it."""
    span, f0_hz = span_of(string_number, midi, 0), frequency_hz(midi)
    design_hz = np.array([f0_hz, partial * f0_hz])
    load = span.impedance_kg_s * bridge_admittance(design_hz)
    gains = (1 - load) / (1 + load) * np.exp(-decay_of(span, design_hz, bridge_share=0) / f0_hz)
    slow_hz = RATE_HZ // 2  # two taps at the full rate cannot lose as much at 2 kHz as the wound string does
    reference = delay_line_string(f0_hz, slow_hz, 0.5, loop_taps_for(tuple(gains), tuple(design_hz), slow_hz))
    modes = Modes(design_hz, decay_of(span, design_hz), np.ones(2), np.zeros(2))
    ours = sum_modes(modes, RATE_HZ // 2, RATE_HZ)
    for hz in design_hz:
        wanted = decay_per_second(reference, slow_hz, hz)
        assert decay_per_second(ours, RATE_HZ, hz) == pytest.approx(wanted, rel=0.02)


def test_a_string_swings_two_ways():
    """The swing along the head outlives the one across it: an aftersound (Weinreich, JASA 62, 1977, from memory). The
    second 10 dB take longer than the first, which one decay alone could not give."""
    for note in (BankNote(4, 50, 0), BankNote(3, 57, 2), BankNote(2, 59, 0), BankNote(1, 66, 4)):
        ten, twenty = (falls_by_db(render_note(note), RATE_HZ, drop_db) for drop_db in (10, 20))
        assert twenty > 2.2 * ten


def test_a_pluck_rises_at_once():
    """A banjo's attack takes under 5 ms (the recordings of D4 and D5 of the FluidR3 sound font: 2 to 4 ms)."""
    plucks = [BankNote(4, 50, 0), BankNote(3, 55, 0), BankNote(2, 59, 0), BankNote(1, 62, 0), BankNote(5, 67, 0),
              BankNote(1, 69, 7), BankNote(1, 74, 12), BankNote(1, 79, 17), BankNote(1, 84, 22)]
    assert max(rise_seconds(render_note(note), RATE_HZ) for note in plucks) < 0.005


def test_most_of_an_open_string_lies_where_a_banjo_radiates():
    """Formants 400–1800 and 2000–4000 Hz, band 147–5200 Hz (Rae & Rossing, abstract)."""
    first = render_note(BankNote(3, 55, 0))[:round(0.3 * RATE_HZ)]
    everything = band_energy(first, RATE_HZ, 0, RATE_HZ / 2)
    assert band_energy(first, RATE_HZ, 147, 5200) > 0.95 * everything
    assert band_energy(first, RATE_HZ, 400, 4000) > 0.5 * everything


class TestFormants:
    """Of the whole neck up to the 17th fret, each note with equal weight, over the first 300 ms."""

    def test_the_loudest_third_of_an_octave_lies_at_500_to_800_hz(self, heard):
        """A formant at 500–800 Hz: Woodhouse, Politzer & Mansour, Acta Acustica 5, 15, 2021 (abstract)."""
        low_hz, high_hz = max(THIRDS, key=heard.get)
        assert 500 <= (low_hz * high_hz) ** 0.5 <= 800

    def test_nearly_all_lies_in_the_radiated_band(self, heard):
        """147–5200 Hz: Rae & Rossing (abstract)."""
        assert heard[147, 5200] > 0.95

    def test_both_formant_bands_stand_out(self, heard):
        """400–1800 and 2000–4000 Hz: Rae & Rossing (abstract). The lower holds most, the upper more than all above."""
        assert heard[400, 1800] > 0.5
        assert heard[2000, 4000] > 2 * heard[4000, RATE_HZ // 2]


THIRDS = [(round(100 * 2 ** (third / 3)), round(100 * 2 ** ((third + 1) / 3))) for third in range(18)]
BANDS = [*THIRDS, (147, 5200), (400, 1800), (2000, 4000), (4000, RATE_HZ // 2)]


@pytest.fixture(scope="module")
def heard() -> dict[tuple[int, int], float]:
    """(low, high) in Hz -> mean share of a note's energy that lies there, the attack weighed as the rest."""
    open_g = TUNINGS["open G"]
    notes = [render_note(BankNote(string_number, open_g.open_midi(string_number) + fret, fret))[:round(0.3 * RATE_HZ)]
             for string_number in (1, 2, 3, 4) for fret in range(18)]
    frequency = np.fft.rfftfreq(len(notes[0]), 1 / RATE_HZ)
    power = np.mean([one / one.sum() for one in np.abs(np.fft.rfft(notes)) ** 2], axis=0)
    return {(low, high): float(power[(frequency >= low) & (frequency < high)].sum()) for low, high in BANDS}


def test_a_chime_rings_longer_than_the_same_pitch_fretted():
    """The wave runs along the whole string and meets the bridge half as often (an octave chime)."""
    sounds = (render_note(BankNote(3, 67, 12, touch)) for touch in ("chime", "pick"))
    chime, fretted = (falls_by_db(sound, RATE_HZ, 20) for sound in sounds)
    assert chime > 1.3 * fretted


@pytest.mark.parametrize("node, partial", [(12, 2), (7, 3), (5, 4), (4, 5)])
def test_a_chime_has_only_the_partials_the_touched_node_leaves(node, partial):
    """A finger at 1/n of the length stops every partial but the n-th, the 2n-th and so on. The others' places hold
    less than a thousandth of the energy, once the head's knock has died away."""
    midi = 55 + round(12 * np.log2(partial))
    late = render_note(BankNote(3, midi, node, "chime", partial))[round(0.1 * RATE_HZ):]
    open_hz = frequency_hz(55)
    energy = {n: band_energy(late, RATE_HZ, (n - 0.3) * open_hz, (n + 0.3) * open_hz) for n in range(1, 21)}
    stopped = sum(power for n, power in energy.items() if n % partial)
    assert stopped < 1e-3 * sum(energy.values())


def test_a_pull_off_from_further_up_is_plucked_nearer_the_middle():
    """And so is duller: its first partials stand out (from one fret above, 0.056 of the length; from five, 0.25)."""
    near, far = (render_note(BankNote(3, 55, 0, "pull-off", frets))[:round(0.3 * RATE_HZ)] for frets in (1, 5))
    assert centroid_hz(far, RATE_HZ, 9000) < 0.9 * centroid_hz(near, RATE_HZ, 9000)
