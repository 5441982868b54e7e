"""Recordings as a teacher would bring them, made of strings whose pitch is known: Karplus & Strong's, not our own."""

import wave
from io import BytesIO
from zlib import crc32

import numpy as np
from scipy.io import wavfile

from fifthpeg.model.own_bank import OwnBank
from fifthpeg.model.pitch import frequency_hz
from fifthpeg.model.take_names import TakeName
from fifthpeg.pages.fingerprint import text_key

from .measure import karplus_strong

RATE_HZ = 44_100
PEAK = 0.6


def plucked(name: TakeName, cents: float = 0.0, rate_hz: int = RATE_HZ, seconds: float = 2.0,
            lead_seconds: float = 0.2, noise_db: float = -75.0) -> np.ndarray:
    """A pluck so many cents sharp, after a lead of silence, over noise so far below full scale."""
    string = karplus_strong(frequency_hz(name.midi + cents / 100), rate_hz, seconds)
    sound = np.concatenate([np.zeros(round(lead_seconds * rate_hz)), string / np.abs(string).max() * PEAK])
    return sound + 10 ** (noise_db / 20) * np.random.default_rng(name.midi).normal(size=len(sound))


def wav(samples: np.ndarray, rate_hz: int = RATE_HZ, bits: int = 16) -> bytes:
    """By the standard library (16, 24 bits) or scipy (32: floating point). Two columns are two channels."""
    file = BytesIO()
    if bits == 32:
        wavfile.write(file, rate_hz, samples.astype(np.float32))
        return file.getvalue()
    with wave.open(file, "wb") as out:
        out.setnchannels(1 if samples.ndim == 1 else samples.shape[1])
        out.setsampwidth(bits // 8)
        out.setframerate(rate_hz)
        steps = np.rint(samples.ravel() * (1 << (bits - 1))).clip(-(1 << (bits - 1)), (1 << (bits - 1)) - 1).astype("<i4")
        out.writeframes(_narrow(steps, bits // 8))
    return file.getvalue()


def bank(**files: bytes) -> OwnBank:
    """By file names without their ending, ``_`` for ``-`` and an ``s`` before: ``s3_2``."""
    return bank_of({f"{name.removeprefix('s').replace('_', '-')}.wav": content for name, content in files.items()})


def bank_of(files: dict[str, bytes]) -> OwnBank:
    return OwnBank(text_key(*(f"{name} {crc32(content)}" for name, content in sorted(files.items()))), files)


def _narrow(steps: np.ndarray, width: int) -> bytes:
    """The low bytes of each whole number, little end first."""
    return steps.view(np.uint8).reshape(-1, 4)[:, :width].tobytes()
