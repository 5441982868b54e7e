"""The backing's two instruments: the same string model, strung and plucked as a guitar and as a bass.

Conventions as in ``render``: mono float64, full scale 1.0, every sample a multiple of 1/32768; SI units unless a name
says otherwise. A likeness: string sets as makers list them (from memory), bodies by their broad resonances only.
"""

from dataclasses import dataclass
from math import pi

import numpy as np

from ..model.backing import BASS, GUITAR, BackingSound
from ..model.pitch import SEMITONES_PER_OCTAVE, frequency_hz
from .body import Modes
from .k_weighting import k_weight_power
from .render import FULL_SCALE_16, LOUDNESS_SECONDS, PLUCK_RMS, sum_modes, to_int16
from .string import Partials, Span, Wire, partials_of

INCH_M = 0.0254
STEEL_KG_M3 = 7850.0
AIR_PER_SECOND = 1.0
WIRE_PER_HZ = 7.5e-4
BENDING_PER_KHZ2 = 0.02
"""What air and wire take of a partial: per second, per second and Hz, per second and kHz². About a banjo string's."""
NULL_FLOOR = 0.01
"""A finger or pick has a width: nulls are no deeper than −40 dB."""
INAUDIBLE = 1e-5
"""Partials this much weaker than the strongest are left out: 16 bits would not hold them."""
FADE_SHARE = 0.35
"""The last part of every sound, over which it is led to silence."""


@dataclass(frozen=True)
class Instrument:
    """``wires`` by the MIDI number of their open string; ``pluck_m`` from the bridge.

    ``resonances`` of the body are (admittance at the peak in s/kg, centre in Hz, Q) over ``floor_admittance``; from
    ``dull_from_hz`` up finger or pick and body swallow the top. ``boom`` and ``stroke`` seconds and extra decay a second
    are those of single notes and of chords, which the left hand lets go of soon.
    """

    scale_m: float
    wires: dict[int, Wire]
    pluck_m: float
    dull_from_hz: float
    floor_admittance: float
    resonances: tuple[tuple[float, float, float], ...]
    level_db: float
    rise_seconds: float
    boom_seconds: float
    boom_decay: float
    stroke_seconds: float = 0.0
    stroke_decay: float = 0.0
    stroke_level_db: float = 0.0
    string_after_string_seconds: float = 0.0


def _plain(gauge_inch: float) -> Wire:
    diameter_m = gauge_inch * INCH_M
    return Wire(diameter_m, STEEL_KG_M3 * pi * diameter_m ** 2 / 4)


INSTRUMENTS = {
    GUITAR: Instrument(
        scale_m=0.648,  # 25½ in
        wires={40: Wire(0.018 * INCH_M, 10.3e-3), 45: Wire(0.017 * INCH_M, 6.54e-3), 50: Wire(0.015 * INCH_M, 3.75e-3),
               55: Wire(0.013 * INCH_M, 2.06e-3), 59: _plain(0.016), 64: _plain(0.012)},  # 105 to 136 N each
        pluck_m=0.151, dull_from_hz=3000.0,
        floor_admittance=0.0004, resonances=((0.0016, 105.0, 2.0), (0.0022, 205.0, 2.0), (0.0008, 420.0, 1.0)),
        level_db=0.0, rise_seconds=0.001, boom_seconds=1.1, boom_decay=2.0,
        stroke_seconds=0.6, stroke_decay=7.0, stroke_level_db=-1.0, string_after_string_seconds=0.008),
    BASS: Instrument(
        scale_m=1.06,  # a double bass of three-quarter size
        wires={28: Wire(0.7e-3, 36.7e-3), 33: Wire(0.6e-3, 20.6e-3), 38: Wire(0.5e-3, 11.6e-3),
               43: Wire(0.5e-3, 6.5e-3)},  # about 280 N each
        pluck_m=0.263, dull_from_hz=650.0,  # the flesh of a finger over the end of the fingerboard
        floor_admittance=0.0002, resonances=((0.0004, 62.0, 1.5), (0.0009, 105.0, 1.5), (0.0004, 230.0, 1.0)),
        level_db=-2.0, rise_seconds=0.004, boom_seconds=1.1, boom_decay=2.5),
}


def render_backing(sound: BackingSound, rate_hz: int) -> np.ndarray:
    """One note, or the strings of a chord one after another from the lowest."""
    how = INSTRUMENTS[sound.instrument]
    single = len(sound.pitches) == 1
    frames = round((how.boom_seconds if single else how.stroke_seconds) * rate_hz)
    extra_decay = how.boom_decay if single else how.stroke_decay
    modes = [modes_of_string(how, pitch, rate_hz, extra_decay) for pitch in sound.pitches]
    level_db = how.level_db + (0.0 if single else how.stroke_level_db)
    gain = PLUCK_RMS * 10 ** (level_db / 20) / sum(_heard_power(string, rate_hz) for string in modes) ** 0.5
    rise = _half_cosine(round(how.rise_seconds * rate_hz))
    samples = np.zeros(frames)
    for index, string in enumerate(modes):
        begin = round(index * how.string_after_string_seconds * rate_hz)
        sounded = sum_modes(string, frames - begin, rate_hz)
        sounded[:len(rise)] *= rise
        samples[begin:] += sounded
    fade = _half_cosine(round(FADE_SHARE * frames))
    samples[-len(fade):] *= fade[::-1]
    return to_int16(samples * gain) / FULL_SCALE_16


def modes_of_string(how: Instrument, midi: int, rate_hz: int, extra_decay: float) -> Modes:
    """On the highest string that has the pitch; level not yet set. Raises ValueError below the lowest string."""
    span = _span(how, midi)
    partials = partials_of(span, rate_hz)
    admittance = _admittance(how, partials.frequency_hz)
    decay = (2 * span.f0_hz * span.impedance_kg_s * admittance + AIR_PER_SECOND + WIRE_PER_HZ * partials.frequency_hz
             + BENDING_PER_KHZ2 * (partials.frequency_hz / 1000) ** 2 + extra_decay)
    amplitude = _plucked(how.pluck_m / span.length_m, partials) * np.sqrt(admittance)
    amplitude *= np.exp(-0.5 * (partials.frequency_hz / how.dull_from_hz) ** 2)
    heard = np.abs(amplitude) > INAUDIBLE * np.abs(amplitude).max()
    return Modes(partials.frequency_hz[heard], decay[heard], amplitude[heard], np.zeros(np.count_nonzero(heard)))


def _span(how: Instrument, midi: int) -> Span:
    open_midi = max((string for string in how.wires if string <= midi), default=None)
    if open_midi is None:
        raise ValueError(f"no string of this instrument goes down to {midi}")
    length_m = how.scale_m * 2 ** ((open_midi - midi) / SEMITONES_PER_OCTAVE)
    return Span(how.wires[open_midi], length_m, frequency_hz(midi))


def _admittance(how: Instrument, partial_hz: np.ndarray) -> np.ndarray:
    """In s/kg: a floor and the body's broad resonances, each 1 / (1 + Q²(f/fc − fc/f)²) high."""
    total = np.full_like(partial_hz, how.floor_admittance)
    for peak, centre_hz, q in how.resonances:
        total += peak / (1 + (q * (partial_hz / centre_hz - centre_hz / partial_hz)) ** 2)
    return total


def _plucked(share: float, partials: Partials) -> np.ndarray:
    """sin(nπβ)/n for a pluck at ``share`` β of the length."""
    shape = np.sin(np.pi * partials.number * share)
    return np.where(np.abs(shape) < NULL_FLOOR, NULL_FLOOR, shape) / partials.number


def _heard_power(modes: Modes, rate_hz: int) -> float:
    """K-weighted mean square over LOUDNESS_SECONDS from the start, in closed form."""
    lost = 2 * modes.decay * LOUDNESS_SECONDS
    power = np.square(modes.amplitude) / 2 * -np.expm1(-lost) / lost
    return float(np.sum(power * k_weight_power(modes.frequency_hz, rate_hz)))


def _half_cosine(frames: int) -> np.ndarray:
    """From 0 towards 1."""
    return 0.5 - 0.5 * np.cos(np.pi * np.arange(frames) / frames)
