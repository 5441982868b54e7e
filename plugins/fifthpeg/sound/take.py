"""One recorded pluck: its samples out of a WAV file, trimmed to where the string leaves the pick."""

from dataclasses import dataclass
from io import BytesIO

import numpy as np
import soundfile

SILENT_DBFS = -50.0
"""A file whose highest sample stays below holds no pluck, only a microphone that was left on."""
ENVELOPE_HOP_SECONDS = 0.0005
BODY_SHARE = 0.25
"""Of the highest sample: where the envelope first comes this high, the note is under way."""
START_SHARE = 0.02
"""Of the highest sample (−34 dB): from the body back to here the string is being let go."""
OVER_NOISE = 4.0
"""A start that drowns in noise is looked for this far above the noise instead (12 dB)."""
LONGEST_ATTACK_SECONDS = 0.012
CLICK_SECONDS, CLICK_SHARE = 0.05, 0.1
"""A knock on the microphone is as high as a pluck, but what follows it has less than a tenth of a pluck's energy."""
LEAD_SECONDS = 0.0005
"""Kept before the start, so that the led-in first samples are the silence before it."""


@dataclass(frozen=True)
class Take:
    """``samples`` mono float64, full scale 1.0, from LEAD_SECONDS before the pluck to the file's end."""

    samples: np.ndarray
    rate_hz: int

    @property
    def seconds(self) -> float:
        return len(self.samples) / self.rate_hz


def read_wav(content: bytes) -> tuple[np.ndarray, int] | None:
    """(mono samples, rate): the louder of two channels, which no phase between two microphones can cancel.

    16, 24 and 32 bits, whole numbers or floating point. None where the bytes are no WAV file that can be read.
    """
    try:
        samples, rate_hz = soundfile.read(BytesIO(content), dtype="float64", always_2d=True)
    except (soundfile.SoundFileError, TypeError):
        return None
    if not len(samples) or not np.isfinite(samples).all():
        return None
    return samples[:, int(np.argmax(np.square(samples).sum(axis=0)))], rate_hz


def is_silent(samples: np.ndarray) -> bool:
    return float(np.abs(samples).max()) < 10 ** (SILENT_DBFS / 20)


def trimmed(samples: np.ndarray, rate_hz: int) -> Take:
    """From the pluck on."""
    begin = max(0, onset_frame(samples, rate_hz) - round(LEAD_SECONDS * rate_hz))
    return Take(samples[begin:], rate_hz)


def onset_frame(samples: np.ndarray, rate_hz: int) -> int:
    """The first frame of the pluck: back from where the note is under way to where it rises out of what was before."""
    hop = max(1, round(ENVELOPE_HOP_SECONDS * rate_hz))
    envelope = np.abs(np.pad(samples, (0, -len(samples) % hop))).reshape(-1, hop).max(axis=1)
    body = _body(envelope, samples, hop, rate_hz)
    noise = float(np.median(envelope[:body])) if body else 0.0
    threshold = max(START_SHARE * envelope.max(), OVER_NOISE * noise)
    block, earliest = body, max(0, body - round(LONGEST_ATTACK_SECONDS * rate_hz / hop))
    while block > earliest and envelope[block - 1] >= threshold:
        block -= 1
    first = block * hop
    return first + int(np.argmax(np.abs(samples[first:first + hop]) >= min(threshold, envelope[block])))


def _body(envelope: np.ndarray, samples: np.ndarray, hop: int, rate_hz: int) -> int:
    """The first block that is loud, and has something after it."""
    energy = np.concatenate([[0.0], np.cumsum(np.square(samples))])
    starts = np.minimum(np.arange(len(envelope)) * hop, len(samples))
    following = energy[np.minimum(starts + round(CLICK_SECONDS * rate_hz), len(samples))] - energy[starts]
    loud = (envelope >= BODY_SHARE * envelope.max()) & (following >= CLICK_SHARE * following.max())
    return int(np.argmax(loud)) if loud.any() else int(np.argmax(envelope))
