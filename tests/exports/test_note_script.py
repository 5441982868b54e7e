"""A bank note as a script: the name, and a FLAC file in base64 that gives back every sample."""

import re
from base64 import b64decode
from io import BytesIO

import numpy as np
import soundfile

from fifthpeg.exports.note_script import flac_bytes, note_script

RATE_HZ = 22_050
FADING = np.rint(9000 * np.sin(np.arange(8000) / 9) * np.exp(-np.arange(8000) / 2000)) / 32768
SCRIPT = note_script("3-57-2-pick", FADING, RATE_HZ)


def test_it_is_one_call_with_the_name_and_the_sound():
    assert re.fullmatch(r'fifthpeg\.bank\.take\("3-57-2-pick", "[A-Za-z0-9+/]+=*"\);\n', SCRIPT)


def test_soundfile_decodes_every_sample():
    flac = b64decode(SCRIPT.split('"')[3])
    samples, rate_hz = soundfile.read(BytesIO(flac))
    assert (rate_hz, flac[:4]) == (RATE_HZ, b"fLaC")
    assert np.array_equal(samples, FADING)


def test_it_is_smaller_than_the_samples_themselves():
    assert len(flac_bytes(FADING, RATE_HZ)) < 2 * len(FADING)


def test_the_same_note_gives_the_same_script():
    assert note_script("3-57-2-pick", FADING, RATE_HZ) == SCRIPT
