"""Onsets by an ear of another make: Debian `aubio-tools`, aubioonset in the complex domain."""

from fractions import Fraction

import numpy as np
import pytest

from fifthpeg.sound.mix import mix, sounds_needed
from fifthpeg.sound.render import RATE_HZ, render_bank

from .licks import FORWARD_ROLL, WEIR_RUN, performed
from .outside import onsets_by_aubio

WITHIN_SECONDS = 256 / RATE_HZ
"""Half of its window of 512 frames, 11.6 ms: it can't say better where in a window the sound began."""
LEAD_SECONDS = 0.5
"""Silence before the first note, so that its detector has a past to compare with."""


@pytest.mark.parametrize("qpm", [80, 120, 160, 208, 240])
@pytest.mark.parametrize("bars", [WEIR_RUN, FORWARD_ROLL], ids=["weir run", "forward roll"])
def test_every_pluck_is_heard_and_nothing_else(bars, qpm, tmp_path):
    performance = performed(*bars)
    recording = mix(performance, 0, render_bank(sounds_needed(performance, 0)), Fraction(qpm))
    lead = np.zeros(round(LEAD_SECONDS * RATE_HZ))
    heard = onsets_by_aubio(np.concatenate([lead, recording]), RATE_HZ, tmp_path) - LEAD_SECONDS
    written = np.array([float(note.start * 60 / qpm) for note in performance.notes])
    assert len(heard) == len(written)
    assert np.abs(heard - written).max() <= WITHIN_SECONDS
