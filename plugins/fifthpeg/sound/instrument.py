"""The banjo that is heard: every physical setting of string, bridge, head and pick, in one place.

A likeness, not a measurement. Gauges and scale are common ones; what is marked "fitted" was brought
near one outside sample set (FluidR3's banjo, at the pitches it was recorded at) and the formant bands of
two papers (500–800 Hz: Woodhouse, Politzer & Mansour, Acta Acustica 5, 15, 2021; 400–1800 and
2000–4000 Hz: Rae & Rossing), and rounded. Change a figure here and nowhere else.
"""

from typing import NamedTuple


class Gauge(NamedTuple):
    """One string. ``core_inch`` bends, ``kg_per_m`` swings; a plain wire's mass is that of its steel (None)."""

    core_inch: float
    kg_per_m: float | None = None
    rubbing_per_second: float = 0.0
    """What windings take from every partial by rubbing on one another; fitted."""


class Resonance(NamedTuple):
    """R = height / (1 + Q²(f/centre − centre/f)²)."""

    height: float
    centre_hz: float
    q: float


# Neck and strings ---------------------------------------------------------------------------------
SCALE_M = 0.66675
"""26¼ in, a common scale."""
GAUGES = {1: Gauge(0.009), 2: Gauge(0.011), 3: Gauge(0.013), 4: Gauge(0.011, 1.44e-3, 0.6), 5: Gauge(0.009)}
"""A light set by string number; in open G 11.0, 11.7, 10.3, 12.4, 11.0 lbf. The wound fourth (.020) is taken as
12.4 lbf at D3 on an .011 core: an assumption."""
STEEL_PA = 2.0e11
"""Young's modulus of music wire; handbook value from memory."""
STEEL_KG_M3 = 7850.0
AIR_PER_SECOND = 1.05
WIRE_PER_HZ = 6.5e-4
BENDING_PER_KHZ2 = 0.0194
"""What air and wire take of a partial: per second, per second and Hz, per second and kHz²; fitted."""

# Bridge and head ----------------------------------------------------------------------------------
BRIDGE_FLOOR_S_KG = 0.0035
BRIDGE = (Resonance(0.11, 660.0, 1.35), Resonance(0.1, 1600.0, 2.0))
"""How readily the bridge moves, in s/kg: between its resonances and at them; fitted."""
STIFF_BELOW_HZ = 62.0
"""The head hardly moves below this."""
SIDEWAYS_SHARE = 0.2
"""A bridge rocks along the head less readily than it moves across: the string's sideways swing feels this share of
the admittance, and lives on when the rest has gone. Fitted to the sound's second 10 dB against its first."""
SIDEWAYS_LEVEL = 0.11
"""What is heard of it at the start, against the swing across the head."""
SIDEWAYS_BELOW_HZ = 4000.0
"""Above this wire and air end both swings alike."""
RADIATION_ADMITTANCE_POWER = 0.075
RADIATION_TILT_POWER = 0.16
SMALL_HEAD_HZ = 140.0
"""Below this the head is too small to push the air as well as it moves; fitted, as the two powers are."""
RADIATION = (Resonance(0.3, 650.0, 2.5), Resonance(0.35, 2700.0, 1.6))
"""What the pot adds to the sound, over 1, in the formant bands."""
HEAD_LAG_SECONDS, HEAD_LAG_CORNER_HZ = 0.004, 500.0
"""The head passes low partials on later than high ones: by this much far below the corner. Without it all
partials of a pluck would start in step, and the first peak would tower 3 dB higher."""
KNOCK_MODES = 18
KNOCK_LOWEST_HZ, KNOCK_HIGHEST_HZ = 260.0, 3800.0
KNOCK_Q = 9.0
KNOCK_JITTER = 0.04
"""The head's own answer to a blow: so many damped modes, evenly spread in pitch, each off its place by up to this
share, so that no two notes knock alike."""

# The right hand -----------------------------------------------------------------------------------
PICK_TO_BRIDGE_M = 0.0587
"""A little over 2¼ in, off any simple fraction of the string so that no partial is quite missing; fitted."""
PICK_ROUNDNESS_M = 0.0072
"""The pick lets go of a round bend, not of a corner: waves shorter than this are not made; fitted."""
PICK_NULL_FLOOR = 0.01
"""Real picks have a width: nulls are no deeper than −40 dB."""
