"""RIFF WAVE, 16-bit PCM, mono, with what it is and whose in a LIST INFO chunk."""

from collections.abc import Mapping

import numpy as np

PCM = 1
CHANNELS = 1
SAMPLE_BYTES = 2
INFO_TAGS = {"title": b"INAM", "rights": b"ICOP", "software": b"ISFT"}
"""Words callers use -> tags of the RIFF INFO list."""


def wav_bytes(samples: np.ndarray, rate_hz: int, info: Mapping[str, str]) -> bytes:
    """``samples`` int16, one dimension; ``info`` may have title, rights, software (UTF-8; empty ones left out).

    The list comes after the sound, so that the header keeps its plainest shape. Raises
    TypeError for other samples, KeyError for another word.
    """
    if samples.dtype != np.int16 or samples.ndim != 1:
        raise TypeError(f"a WAV here takes one row of int16, not {samples.dtype} of shape {samples.shape}")
    rate, width = rate_hz * CHANNELS * SAMPLE_BYTES, CHANNELS * SAMPLE_BYTES
    form = b"".join(_field(value, size) for value, size in (
        (PCM, 2), (CHANNELS, 2), (rate_hz, 4), (rate, 4), (width, 2), (8 * SAMPLE_BYTES, 2)))
    chunks = [_chunk(b"fmt ", form), _chunk(b"data", samples.astype("<i2").tobytes()), _info_list(info)]
    return _chunk(b"RIFF", b"WAVE" + b"".join(chunks))


def _info_list(info: Mapping[str, str]) -> bytes:
    entries = [_chunk(INFO_TAGS[word], text.encode() + b"\0") for word, text in sorted(info.items()) if text]
    return _chunk(b"LIST", b"INFO" + b"".join(entries)) if entries else b""


def _chunk(tag: bytes, body: bytes) -> bytes:
    """A chunk's size does not count the byte that makes it even."""
    return tag + _field(len(body), 4) + body + b"\0" * (len(body) % 2)


def _field(value: int, size: int) -> bytes:
    return value.to_bytes(size, "little")
