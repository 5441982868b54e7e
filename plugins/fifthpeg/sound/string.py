"""A stiff, lossy string on a banjo bridge: pitch and length in, partials out.

Conventions: SI units unless a name says otherwise; partial numbers n from 1; arrays of shape
(partials,). Inharmonicity after Fletcher, f_n = n·f0·√(1 + B·n²), scaled so that the first
partial is exactly in tune.
"""

from dataclasses import dataclass
from math import pi

import numpy as np

from ..model.pitch import SEMITONES_PER_OCTAVE, frequency_hz
from ..model.tuning import SHORT_STRING, SHORT_STRING_NUT
from .body import bridge_admittance
from .instrument import (
    AIR_PER_SECOND, BENDING_PER_KHZ2, GAUGES, SCALE_M, SIDEWAYS_SHARE, STEEL_KG_M3, STEEL_PA, WIRE_PER_HZ, Gauge)

INCH_M = 0.0254
HIGHEST_HZ = 14_000.0
HIGHEST_SHARE_OF_RATE = 0.45
"""Partials above either limit are left out: nobody would hear the first, the second would fold over."""


@dataclass(frozen=True)
class Wire:
    """``core_m`` bends, ``kg_per_m`` swings; they differ where a string is wound, and windings rub."""

    core_m: float
    kg_per_m: float
    rubbing_per_second: float = 0.0


def wire_of(gauge: Gauge) -> Wire:
    core_m = gauge.core_inch * INCH_M
    plain_kg_per_m = STEEL_KG_M3 * pi * core_m ** 2 / 4
    return Wire(core_m, gauge.kg_per_m or plain_kg_per_m, gauge.rubbing_per_second)


WIRES = {string_number: wire_of(gauge) for string_number, gauge in GAUGES.items()}


@dataclass(frozen=True)
class Span:
    """The sounding part of a string, at pitch."""

    wire: Wire
    length_m: float
    f0_hz: float

    @property
    def tension_n(self) -> float:
        return self.wire.kg_per_m * (2 * self.length_m * self.f0_hz) ** 2

    @property
    def wave_m_s(self) -> float:
        """How fast a wave runs along it."""
        return 2 * self.length_m * self.f0_hz

    @property
    def impedance_kg_s(self) -> float:
        """√(tension · mass per length)."""
        return self.wire.kg_per_m * 2 * self.length_m * self.f0_hz

    @property
    def stiffness(self) -> float:
        """B = π³·E·d⁴ / (64·T·L²)."""
        return pi ** 3 * STEEL_PA * self.wire.core_m ** 4 / (64 * self.tension_n * self.length_m ** 2)


@dataclass(frozen=True)
class Partials:
    """``number`` from 1; decays per second (of amplitude), of the swing across the head and along it."""

    number: np.ndarray
    frequency_hz: np.ndarray
    decay: np.ndarray
    sideways_decay: np.ndarray


def span_of(string_number: int, midi: int, stop: int) -> Span:
    """``stop`` is the physical fret on the long neck; 0 is the open string at whatever pitch it is tuned to."""
    frets = stop or (SHORT_STRING_NUT if string_number == SHORT_STRING else 0)
    return Span(WIRES[string_number], SCALE_M * 2 ** (-frets / SEMITONES_PER_OCTAVE), frequency_hz(midi))


def chimed(open_string: Span, partial: int) -> Span:
    """The part between two nodes of an open string that is touched at one: it leaves only the partials whose numbers
    ``partial`` divides. By how much stiffness sharpens the lowest, under half a cent, is left out."""
    return Span(open_string.wire, open_string.length_m / partial, partial * open_string.f0_hz)


def partials_of(span: Span, rate_hz: int, bridge_meets: Span | None = None) -> Partials:
    """Every partial that is heard and does not fold over at this sample rate.

    ``bridge_meets`` is the string whose waves the bridge meets, where it is longer than the
    span: a chime sounds the part between two nodes, but the wave runs along the whole string.
    """
    limit_hz = min(HIGHEST_HZ, HIGHEST_SHARE_OF_RATE * rate_hz)
    number = np.arange(1, int(limit_hz / span.f0_hz) + 1, dtype=float)
    stiffness = span.stiffness
    stretched_hz = number * span.f0_hz * np.sqrt((1 + stiffness * number ** 2) / (1 + stiffness))
    audible = stretched_hz <= limit_hz
    number, stretched_hz = number[audible], stretched_hz[audible]
    meets = bridge_meets or span
    across, sideways = decay_of(meets, stretched_hz), decay_of(meets, stretched_hz, SIDEWAYS_SHARE)
    return Partials(number, stretched_hz, across, sideways)


def decay_of(span: Span, partial_hz: np.ndarray, bridge_share: float = 1.0) -> np.ndarray:
    """Per second: what the bridge takes in each return of the wave, and what air and wire take."""
    bridge = 2 * span.f0_hz * span.impedance_kg_s * bridge_admittance(partial_hz) * bridge_share
    wire = WIRE_PER_HZ * partial_hz + BENDING_PER_KHZ2 * (partial_hz / 1000) ** 2
    return bridge + AIR_PER_SECOND + span.wire.rubbing_per_second + wire
