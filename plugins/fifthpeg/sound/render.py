"""The note bank: one short sound per string, pitch, stop and touch.

Conventions: mono float64, full scale 1.0, every sample a multiple of 1/32768, so that what
the browser decodes from 16 bits is what the recordings are mixed from.

The sum of damped sinusoids is one real matrix product: with s_k = −decay_k + 2πi·f_k,
y[B·i + j] = Re Σ_k (−i·a_k·e^(s_k·B·i)) · e^(s_k·j), time counted in frames.
"""

from collections.abc import Iterable
from functools import cache
from math import log2
from zlib import crc32

import numpy as np

from ..model.bank import BankNote
from ..model.pitch import SEMITONES_PER_OCTAVE
from ..model.tuning import TUNINGS
from .body import Modes, head_knock, lag_phase, radiation
from .instrument import SIDEWAYS_BELOW_HZ, SIDEWAYS_LEVEL
from .k_weighting import k_weight_power
from .string import Partials, Span, chimed, partials_of, span_of
from .touches import TOUCHES, excitation

RATE_HZ = 22_050
FULL_SCALE_16 = 32_768
BLOCK_FRAMES = 256
ONE_THREAD_PRODUCTS = 2 ** 18
"""A matrix product no larger stays on one thread in OpenBLAS; sharing one this small out takes six times the CPU."""
LIFE = 26.0
"""A mode is left out after so many of its time constants: by then it is 226 dB down."""
SLOWEST_DECAY = 1e-9
"""Per second: a mode that does not decay at all lives as long as any note."""
BRIEF_SHARE = 0.3
"""What dies within this share of a note (its knock) is added up apart from what lasts."""
ATTACK_SECONDS = 0.0005
"""The string leaves the pick over this long: no click at the first sample."""
FADE_SHARE = 0.35
"""The last part of every note, over which it is led to silence."""
LOUDNESS_SECONDS = 0.3
"""A note's loudness is its K-weighted mean square over this long from its start."""
PLUCK_RMS = 0.025
"""Of a plain pluck, so measured: loud enough for 16 bits, low enough that FLAC stays small."""
OPEN_G = TUNINGS["open G"]


def render_bank(notes: Iterable[BankNote], rate_hz: int = RATE_HZ) -> dict[BankNote, np.ndarray]:
    """Every note once, in their own order."""
    return {note: render_note(note, rate_hz) for note in sorted(set(notes))}


def render_note(note: BankNote, rate_hz: int = RATE_HZ) -> np.ndarray:
    """The sound of one note; raises KeyError for a touch that has no sound of its own."""
    how = TOUCHES[note.touch]
    frames = round(how.seconds * rate_hz)
    modes = modes_of(note, rate_hz)
    samples = sum_modes(modes, frames, rate_hz) * _gain(modes, how.level_db, rate_hz)
    attack, fade = _rise(round(ATTACK_SECONDS * rate_hz)), _rise(round(FADE_SHARE * frames))
    samples[:len(attack)] *= attack
    samples[-len(fade):] *= fade[::-1]
    return to_int16(samples) / FULL_SCALE_16


def to_int16(samples: np.ndarray) -> np.ndarray:
    """Rounded to the nearest of 65,536 steps, no dither; what is beyond full scale is clipped."""
    steps = np.rint(samples * FULL_SCALE_16)
    return np.clip(steps, -FULL_SCALE_16, FULL_SCALE_16 - 1).astype(np.int16)


def modes_of(note: BankNote, rate_hz: int) -> Modes:
    """String and head together, levels not yet set."""
    how = TOUCHES[note.touch]
    span, meets = _spans(note)
    partials = partials_of(span, rate_hz, bridge_meets=meets)
    pulled_frets = note.detail if note.touch == "pull-off" else 0
    amplitude = excitation(note.touch, span, partials, pulled_frets) * radiation(partials.frequency_hz)
    knock = head_knock(crc32(note.name.encode())).louder(how.head * np.abs(amplitude).max())
    return _both_swings(partials, amplitude, how.extra_decay).joined(knock)


def _spans(note: BankNote) -> tuple[Span, Span]:
    """(the part of the string that sounds, the part whose waves the bridge meets)."""
    if note.touch != "chime":
        span = span_of(note.string, note.midi or OPEN_G.open_midi(note.string) + note.stop, note.stop)
        return span, span
    partial, open_midi = chime_of(note)
    open_string = span_of(note.string, open_midi, 0)
    return chimed(open_string, partial), open_string


def chime_of(note: BankNote) -> tuple[int, int]:
    """(which partial of the open string a chime sounds, what the open string sounds); in open G where it doesn't say."""
    partial = note.detail or round(2 ** ((note.midi - OPEN_G.open_midi(note.string)) / SEMITONES_PER_OCTAVE))
    return partial, note.midi - round(SEMITONES_PER_OCTAVE * log2(partial))


def _both_swings(partials: Partials, amplitude: np.ndarray, extra_decay: float) -> Modes:
    """The string's swing across the head, and along it where that outlives the other."""
    frequency_hz, phase = partials.frequency_hz, lag_phase(partials.frequency_hz)
    across = Modes(frequency_hz, partials.decay + extra_decay, amplitude, phase)
    low = frequency_hz < SIDEWAYS_BELOW_HZ
    return across.joined(Modes(frequency_hz[low], partials.sideways_decay[low] + extra_decay,
                               amplitude[low] * SIDEWAYS_LEVEL, phase[low]))


def sum_modes(modes: Modes, frames: int, rate_hz: int) -> np.ndarray:
    """The damped sinusoids added up, ``frames`` long; each for as long as it lives."""
    total = np.zeros(frames)
    alive_frames = np.ceil(LIFE * rate_hz / np.maximum(modes.decay, SLOWEST_DECAY))
    brief = alive_frames < BRIEF_SHARE * frames
    for some in (brief, ~brief):
        if some.any():
            until = int(min(frames, alive_frames[some].max()))
            total[:until] += _product(modes.only(some), until, rate_hz)
    return total


def _product(modes: Modes, frames: int, rate_hz: int) -> np.ndarray:
    per_frame = (-modes.decay + 2j * np.pi * modes.frequency_hz) / rate_hz
    start = -1j * modes.amplitude * np.exp(1j * modes.phase)
    rows = max(1, ONE_THREAD_PRODUCTS // (BLOCK_FRAMES * 2 * len(start)))
    blocks = rows * -(-frames // (rows * BLOCK_FRAMES))
    coarse = start * _powers(per_frame * BLOCK_FRAMES, blocks)
    fine = _powers(per_frame, BLOCK_FRAMES).T
    weights, waves = np.hstack([coarse.real, -coarse.imag]), np.vstack([fine.real, fine.imag])
    return np.matmul(weights.reshape(-1, rows, waves.shape[0]), waves).ravel()[:frames]


def _powers(exponent: np.ndarray, count: int) -> np.ndarray:
    """e^(k·exponent) for k = 0 … count − 1, one a row. In two steps, 16·i and j: most of the time went into exp."""
    near = np.exp(np.outer(np.arange(16), exponent))
    far = np.exp(np.outer(np.arange(-(-count // 16)) * 16, exponent))
    return (far[:, None, :] * near[None, :, :]).reshape(-1, len(exponent))[:count]


@cache
def _rise(frames: int) -> np.ndarray:
    """From 0 towards 1 along half a cosine."""
    return 0.5 - 0.5 * np.cos(np.pi * np.arange(frames) / frames)


def _gain(modes: Modes, level_db: float, rate_hz: int) -> float:
    """Brings the modes to the bank's level, from their energy in closed form: the two swings of a partial keep step, all
    else adds up by its power."""
    power = np.square(modes.amplitude) / 2 * _share_left(2 * modes.decay)
    order = np.argsort(modes.frequency_hz, kind="stable")
    kept_step = np.flatnonzero(np.diff(modes.frequency_hz[order]) == 0)
    one, other = order[kept_step], order[kept_step + 1]
    power[one] += modes.amplitude[one] * modes.amplitude[other] * _share_left(modes.decay[one] + modes.decay[other])
    heard = float(np.sum(power * k_weight_power(modes.frequency_hz, rate_hz)))
    return PLUCK_RMS * 10 ** (level_db / 20) / heard ** 0.5


def _share_left(decay: np.ndarray) -> np.ndarray:
    """The mean of e^(−decay·t) over LOUDNESS_SECONDS."""
    lost = decay * LOUDNESS_SECONDS
    return -np.expm1(-lost) / lost
