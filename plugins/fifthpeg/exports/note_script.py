"""A note of the bank as a classic script: it plays from file://, where nothing can be fetched."""

from base64 import b64encode
from io import BytesIO

import numpy as np
import soundfile

FULL_SCALE_16 = 32_768
SMALLEST = 1.0
"""FLAC's effort from 0 to 1; the sound is the same at any."""


def note_script(name: str, samples: np.ndarray, rate_hz: int) -> str:
    """``samples`` float, multiples of 1/32768 (as the bank's are): nothing is lost on the way."""
    return f'fifthpeg.bank.take("{name}", "{b64encode(flac_bytes(samples, rate_hz)).decode()}");\n'


def flac_bytes(samples: np.ndarray, rate_hz: int) -> bytes:
    steps = np.rint(samples * FULL_SCALE_16).clip(-FULL_SCALE_16, FULL_SCALE_16 - 1).astype(np.int16)
    flac = BytesIO()
    soundfile.write(flac, steps, rate_hz, format="FLAC", subtype="PCM_16", compression_level=SMALLEST)
    return flac.getvalue()
