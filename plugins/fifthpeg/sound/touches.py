"""How a string is set going: by a pick, by a left-hand finger, by a touched node.

Each touch is a line of one table. The string's part is a mix of what it was still doing
(``ringing_seconds`` after its pluck) and of a new blow or pluck; the head's knock is the
attack that tells them apart.
"""

from dataclasses import dataclass

import numpy as np

from ..model.pitch import SEMITONES_PER_OCTAVE
from .instrument import PICK_NULL_FLOOR, PICK_ROUNDNESS_M, PICK_TO_BRIDGE_M
from .string import Partials, Span

PULLED_FRETS = 2
"""How far above the new stop a pull-off plucks where nobody says."""


@dataclass(frozen=True)
class Touch:
    """``roundness_m``: how round a bend the exciting finger or pick makes: it swallows shorter waves.

    ``ringing`` and ``struck`` weigh the string's two parts, ``head`` its knock against the
    loudest partial, ``level_db`` the whole against a pluck of the same string and stop.
    """

    roundness_m: float
    struck: float = 1.0
    ringing: float = 0.0
    ringing_seconds: float = 0.12
    head: float = 0.0
    level_db: float = 0.0
    extra_decay: float = 0.0
    seconds: float = 1.5


TOUCHES = {
    "pick": Touch(PICK_ROUNDNESS_M, head=0.38),
    "hammer-on": Touch(0.017, struck=0.38, ringing=0.8, head=0.14, level_db=-3.5),
    "pull-off": Touch(0.006, struck=1.0, ringing=0.2, head=0.2, level_db=-3.0),
    "slide": Touch(0.020, struck=0.18, ringing=1.0, head=0.07, level_db=-4.5),
    "chime": Touch(0.011, head=0.10, level_db=-1.0),
    "damped": Touch(0.011, head=0.9, level_db=-9.0, extra_decay=55.0, seconds=0.25),
}
LEGATO = ("hammer-on", "pull-off", "slide")


def excitation(touch: str, span: Span, partials: Partials, pulled_frets: int = 0) -> np.ndarray:
    """Force on the bridge of each partial, in an arbitrary unit.

    What rings on and what is new keep no step with each other: their powers add.
    """
    how = TOUCHES[touch]
    picked = _plucked_at(PICK_TO_BRIDGE_M / span.length_m, partials.number)
    soft = np.exp(-0.5 * (2 * np.pi * how.roundness_m * partials.frequency_hz / span.wave_m_s) ** 2)
    if touch not in LEGATO:
        return picked * soft
    left_over = picked * np.exp(-partials.decay * how.ringing_seconds)
    return np.hypot(how.ringing * left_over, how.struck * _moved(touch, partials.number, pulled_frets) * soft)


def _moved(touch: str, number: np.ndarray, pulled_frets: int) -> np.ndarray:
    """By the left hand. A pull-off plucks the string at the fret that the finger leaves."""
    if touch != "pull-off":
        return _end_struck(number)
    return _plucked_at(1 - 2 ** (-(pulled_frets or PULLED_FRETS) / SEMITONES_PER_OCTAVE), number)


def _plucked_at(share: float, number: np.ndarray) -> np.ndarray:
    """sin(nπβ)/n for a pluck at ``share`` β of the length."""
    shape = np.sin(np.pi * number * share)
    shape = np.where(np.abs(shape) < PICK_NULL_FLOOR, PICK_NULL_FLOOR, shape)
    return shape / number


def _end_struck(number: np.ndarray) -> np.ndarray:
    """A finger brings the string down on its fret: its end is moved, so no mode is spared and high ones get more."""
    return 1 / (2 * np.sqrt(number))
