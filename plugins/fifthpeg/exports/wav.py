"""RIFF WAVE, 16-bit PCM, mono or stereo, with what it is and whose in a LIST INFO chunk, and cues with labels.

Chunks as in *Multimedia Programming Interface and Data Specifications 1.0* (IBM and Microsoft, 1991): a cue names a
frame, a ``labl`` in a LIST of type ``adtl`` gives it words.
"""

from collections.abc import Mapping, Sequence

import numpy as np

PCM = 1
SAMPLE_BYTES = 2
INFO_TAGS = {"title": b"INAM", "course": b"IPRD", "rights": b"ICOP", "software": b"ISFT"}
"""Words callers use -> tags of the RIFF INFO list."""


def wav_bytes(samples: np.ndarray, rate_hz: int, info: Mapping[str, str],
              cues: Sequence[tuple[int, str]] = ()) -> bytes:
    """``samples`` int16 of shape (frames,) or (2, frames); ``info`` may have title, course, rights, software (UTF-8;
    empty ones left out); ``cues`` are (frame, label).

    The lists come after the sound, so that the header keeps its plainest shape. Raises
    TypeError for other samples, KeyError for another word.
    """
    if samples.dtype != np.int16 or samples.ndim > 2:
        raise TypeError(f"a WAV here takes one or two rows of int16, not {samples.dtype} of shape {samples.shape}")
    channels = 1 if samples.ndim == 1 else len(samples)
    width = channels * SAMPLE_BYTES
    form = b"".join(_field(value, size) for value, size in (
        (PCM, 2), (channels, 2), (rate_hz, 4), (rate_hz * width, 4), (width, 2), (8 * SAMPLE_BYTES, 2)))
    sound = samples.T.astype("<i2").tobytes()
    chunks = [_chunk(b"fmt ", form), _chunk(b"data", sound), *_cue_chunks(cues), _info_list(info)]
    return _chunk(b"RIFF", b"WAVE" + b"".join(chunks))


def _cue_chunks(cues: Sequence[tuple[int, str]]) -> list[bytes]:
    """Cues are numbered from 1."""
    if not cues:
        return []
    points = [_field(number, 4) + _field(frame, 4) + b"data" + _field(0, 4) + _field(0, 4) + _field(frame, 4)
              for number, (frame, _) in enumerate(cues, start=1)]
    labels = [_chunk(b"labl", _field(number, 4) + label.encode() + b"\0")
              for number, (_, label) in enumerate(cues, start=1)]
    return [_chunk(b"cue ", _field(len(cues), 4) + b"".join(points)), _chunk(b"LIST", b"adtl" + b"".join(labels))]


def _info_list(info: Mapping[str, str]) -> bytes:
    entries = [_chunk(INFO_TAGS[word], text.encode() + b"\0") for word, text in sorted(info.items()) if text]
    return _chunk(b"LIST", b"INFO" + b"".join(entries)) if entries else b""


def _chunk(tag: bytes, body: bytes) -> bytes:
    """A chunk's size does not count the byte that makes it even."""
    return tag + _field(len(body), 4) + body + b"\0" * (len(body) % 2)


def _field(value: int, size: int) -> bytes:
    return value.to_bytes(size, "little")
