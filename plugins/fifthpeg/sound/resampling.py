"""A sound read faster or slower by any ratio: other pitch, other length, or another rate with neither changed.

The spectrum is cut or filled up and turned back (the ideal band-limited interpolation), so that no partial folds
over and no fraction of a frame is lost; the band's upper edge is rounded off, which keeps the ringing of the cut short.
"""

import numpy as np

EDGE_SHARE = 0.08
"""Of the band, at its top, over which it is led to nothing."""
LENGTHS_TRIED = 1024
PAD_SHARE = 0.02
"""Silence after the sound, since a spectrum knows no end: what rings past it comes round to the start."""


def resampled(samples: np.ndarray, step: float) -> np.ndarray:
    """``step`` source frames are read for each frame that comes out; 2 is an octave up at the same rate.

    Source and outcome must both have whole lengths, so the padding is chosen for the best fit: the step is met
    within a few parts in a hundred million.
    """
    wanted = int(np.ceil(len(samples) / step))
    lengths = np.arange(1, LENGTHS_TRIED) + int(wanted * (1 + PAD_SHARE)) + 1
    source_lengths = np.rint(lengths * step)
    best = int(np.argmin(np.abs(source_lengths / lengths - step)))
    return _turned(samples, int(source_lengths[best]), int(lengths[best]))[:wanted]


def _turned(samples: np.ndarray, source_frames: int, frames: int) -> np.ndarray:
    spectrum = np.fft.rfft(samples, source_frames)
    bins = min(len(spectrum), frames // 2 + 1)
    edge = int(EDGE_SHARE * bins)
    if frames < source_frames:
        spectrum[bins - edge:bins] *= 0.5 + 0.5 * np.cos(np.pi * np.arange(1, edge + 1) / edge)
    return np.fft.irfft(spectrum[:bins], frames) * (frames / source_frames)
