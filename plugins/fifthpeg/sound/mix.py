"""Bank notes laid over one another at exact frames: one mono recording.

Conventions: float64, full scale 1.0, frame 0 is the start of the performance (pick-up included).
Sources are read between samples along a straight line, as a browser's buffer source reads them.
"""

from collections.abc import Mapping
from fractions import Fraction
from functools import cache

import numpy as np

from ..model.bank import BankNote, bank_note
from ..model.performance import Performance
from .frames import frame_of
from .render import RATE_HZ
from .voices import Voice, begins_source, length_frames, voices

__all__ = ["frame_of", "mix", "sounds_needed"]


def mix(performance: Performance, capo: int, bank: Mapping[BankNote, np.ndarray],
        quarters_per_minute: Fraction, rate_hz: int = RATE_HZ) -> np.ndarray:
    """The performance at one tempo, level not yet set. Raises KeyError where the bank lacks a note."""
    recording = np.zeros(length_frames(performance, quarters_per_minute, rate_hz))
    for voice in voices(performance, capo, quarters_per_minute, rate_hz):
        add_voice(recording, voice, bank[voice.sound])
    return recording


def sounds_needed(performance: Performance, capo: int) -> tuple[BankNote, ...]:
    """The bank notes a performance plays, each once, in the bank's order."""
    return tuple(sorted({bank_note(note, capo) for note in performance.notes if begins_source(note)}))


def add_voice(recording: np.ndarray, voice: Voice, sound: np.ndarray) -> None:
    """Adds in place: from the voice's start to its end, the sound's end or the recording's, whichever is first."""
    if voice.rates:
        sound = _bent(voice, sound)
    frames = min(voice.end_frame - voice.start_frame, len(sound), len(recording) - voice.start_frame)
    heard = _shaded(sound[:frames], voice)
    level_frames = voice.ramp_frame - voice.start_frame
    if frames > level_frames:
        heard[level_frames:] *= _fall(voice.end_frame - voice.ramp_frame)[:frames - level_frames]
    recording[voice.start_frame:voice.start_frame + frames] += heard


def _shaded(sound: np.ndarray, voice: Voice) -> np.ndarray:
    """Gain and shade of rule S2, as a new array."""
    heard = sound * (voice.gain * (1 - voice.shade))
    if voice.shade:
        heard[voice.shade_frames:] += sound[:-voice.shade_frames] * (voice.gain * voice.shade)
    return heard


@cache
def _fall(frames: int) -> np.ndarray:
    """From 1 towards 0 along a straight line."""
    return 1 - np.arange(frames) / frames


def _bent(voice: Voice, sound: np.ndarray) -> np.ndarray:
    """The sound as the rates would have it read, up to its own end. Works in place: half the time is memory."""
    position = _read_positions(voice)
    position = position[:np.searchsorted(position, len(sound) - 1)]
    before = position.astype(np.intp)
    position -= before
    here = sound.take(before)
    before += 1
    bent = sound.take(before)
    bent -= here
    bent *= position
    bent += here
    return bent


def _read_positions(voice: Voice) -> np.ndarray:
    """For each frame of the voice, the place in its sound, in frames: rising, from 0."""
    turns = np.array([voice.start_frame, *(frame for frame, _ in voice.rates), voice.end_frame]) - voice.start_frame
    rates = np.array([1.0, *(rate for _, rate in voice.rates)])
    spans = np.diff(turns)
    reached = np.concatenate([[0.0], np.cumsum(rates * spans)[:-1]])
    position = np.repeat(rates, spans)
    position *= np.arange(turns[-1])
    position += np.repeat(reached - rates * turns[:-1], spans)
    return position
