"""Notes of the bank made from a teacher's own takes, in place of the synthesized ones.

A plain pluck is the take nearest in pitch on its string, read as much faster or slower as brings its first partial
into tune. All other touches come from the same takes, so that a lick never changes instruments within a phrase:

hammer-on, pull-off, slide   the pluck without its first LEGATO_SKIPPED_SECONDS, which hold the pick's noise
chime                        of the string's partials those that the touched node leaves: copies of the take shifted by
                             parts of its period are laid over one another, and all other partials cancel
damped                       the pluck, dying away as the synthesized one does

Level, length and fade are those of the synthesized bank (``render``, ``touches``). A string without any take is
left to the synthesized bank as a whole, and no string is made of both.
"""

from dataclasses import dataclass

import numpy as np
from scipy.signal import sosfilt

from ..model.bank import BankNote
from ..model.own_bank import OwnBank
from ..model.pitch import frequency_hz
from ..model.take_names import TakeName
from .k_weighting import k_weighting
from .pitch_tracking import pitch_hz
from .render import FADE_SHARE, FULL_SCALE_16, LOUDNESS_SECONDS, PLUCK_RMS, chime_of, to_int16
from .resampling import resampled
from .take import LEAD_SECONDS, Take
from .take_stock import Heard, Stock, take_of, take_stock
from .touches import LEGATO, TOUCHES

LEGATO_SKIPPED_SECONDS = 0.02
LEGATO_RISE_SECONDS = 0.005
LOUDEST = 0.98
"""A take whose attack towers over its note is let in a little lower, and never clipped."""
TUNING_ROUNDS = 4
IN_TUNE_SHARE = 1e-5
"""A sixtieth of a cent."""


@dataclass(frozen=True)
class Sought:
    """A take, the frequency at which its first partial was found, and the one it is to have."""

    take: Take
    measured_hz: float
    wanted_hz: float


def own_note(note: BankNote, rate_hz: int, own: OwnBank) -> np.ndarray | None:
    """The sound of one note, as ``render_note`` gives it; None where the bank has no take of its string."""
    stock = take_stock(own)
    if not stock.of_string(note.string):
        return None
    how, is_legato = TOUCHES[note.touch], note.touch in LEGATO
    sought = _chimed(note, stock, own) if note.touch == "chime" else _plucked(note, stock, own)
    sound = _tuned(sought, rate_hz, how.seconds, LEGATO_SKIPPED_SECONDS if is_legato else 0.0)
    if how.extra_decay:
        sound = sound * np.exp(-how.extra_decay / rate_hz * np.arange(len(sound)))
    led = _led(sound, round((LEGATO_RISE_SECONDS if is_legato else LEAD_SECONDS) * rate_hz))
    return to_int16(led * _gain(led, rate_hz, how.level_db)) / FULL_SCALE_16


def nearest(stock: Stock, string_number: int, midi: float) -> Heard:
    """The take of a string to make a note from: nearest in pitch, of two as near the lower."""
    return min(stock.of_string(string_number), key=lambda heard: (abs(heard.name.midi - midi), heard.name))


def _plucked(note: BankNote, stock: Stock, own: OwnBank) -> Sought:
    """A damped pluck sounds at the pitch of its place."""
    midi = note.midi or TakeName(note.string, note.stop).midi
    heard = nearest(stock, note.string, midi)
    return Sought(take_of(heard, own), heard.first_partial_hz, frequency_hz(midi))


def _chimed(note: BankNote, stock: Stock, own: OwnBank) -> Sought:
    partial, open_midi = chime_of(note)
    heard = nearest(stock, note.string, open_midi)
    take = take_of(heard, own)
    kept = Take(_only_every(partial, take, heard.first_partial_hz), take.rate_hz)
    return Sought(kept, partial * heard.first_partial_hz, frequency_hz(note.midi))


def _tuned(sought: Sought, rate_hz: int, seconds: float, skipped_seconds: float) -> np.ndarray:
    """Read at the speed that brings it into tune, without its first ``skipped_seconds``.

    A string's pitch sinks a little while it rings, and the stretch it is measured by moves with the speed: what has
    come out is measured again, until it is in tune itself. One too short to be measured stays as the first reading has it.
    """
    hz, take = sought.measured_hz, sought.take
    frames, skipped_frames = round(seconds * rate_hz), round(skipped_seconds * rate_hz)
    for _ in range(TUNING_ROUNDS):
        step = take.rate_hz / rate_hz * sought.wanted_hz / hz
        needed = int(np.ceil((frames + skipped_frames) * step))
        sound = resampled(take.samples[:needed], step)[skipped_frames:skipped_frames + frames]
        measured_hz = pitch_hz(sound, rate_hz, sought.wanted_hz)
        if measured_hz is None or abs(measured_hz / sought.wanted_hz - 1) <= IN_TUNE_SHARE:
            break
        hz *= measured_hz / sought.wanted_hz
    return sound


def _only_every(partial: int, take: Take, first_partial_hz: float) -> np.ndarray:
    """The take's partials ``partial``, 2·``partial``, …: the mean of copies, each a ``partial``-th of a period later."""
    size = len(take.samples) + round(take.rate_hz / first_partial_hz)
    hz = np.fft.rfftfreq(size, 1 / take.rate_hz)
    turns = np.outer(np.arange(partial), hz / (partial * first_partial_hz))
    return np.fft.irfft(np.fft.rfft(take.samples, size) * np.exp(-2j * np.pi * turns).mean(axis=0), size)


def _led(sound: np.ndarray, rise_frames: int) -> np.ndarray:
    """Led in, and led to silence at its end."""
    led, fade_frames = sound.copy(), round(FADE_SHARE * len(sound))
    led[:rise_frames] *= _rising(rise_frames)
    led[-fade_frames:] *= _rising(fade_frames)[::-1]
    return led


def _rising(frames: int) -> np.ndarray:
    return 0.5 - 0.5 * np.cos(np.pi * np.arange(frames) / frames)


def _gain(sound: np.ndarray, rate_hz: int, level_db: float) -> float:
    """To the bank's level: K-weighted mean square over LOUDNESS_SECONDS from the start, as ``render`` takes it."""
    frames = round(LOUDNESS_SECONDS * rate_hz)
    heard = float(np.sqrt(np.square(sosfilt(k_weighting(rate_hz), sound[:frames])).sum() / frames))
    return min(PLUCK_RMS * 10 ** (level_db / 20) / heard, LOUDEST / float(np.abs(sound).max()))
