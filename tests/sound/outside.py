"""Programs nobody here wrote, that play and listen: FluidSynth with the FluidR3 sound font, and aubioonset.

`make test` finds or installs them (`.ci/soundfont`, `.ci/aubioonset`).
"""

import os
import shutil
import subprocess
from collections.abc import Iterable
from pathlib import Path

import mido
import numpy as np
import pytest
import soundfile

BANJO = 105
"""General MIDI's program number, in the byte (GM level 1: 106 counted from one)."""
TICKS_PER_SECOND = 960
SOUNDFONTS = ("/usr/share/sounds/sf2/FluidR3_GM.sf2", "/usr/share/soundfonts/FluidR3_GM.sf2")


def soundfont_path() -> str:
    named = os.environ.get("FIFTHPEG_SOUNDFONT")
    found = next((path for path in (named, *SOUNDFONTS) if path and Path(path).is_file()), None)
    if found is None:
        pytest.fail("no FluidR3 sound font here: install it (Debian: apt-get install fluidsynth "
                    "fluid-soundfont-gm), or name it in FIFTHPEG_SOUNDFONT")
    return found


def play(midi_path: Path, rate_hz: int) -> np.ndarray:
    """A MIDI file as FluidSynth plays it, dry (no reverberation, no chorus), one channel."""
    wav_path = midi_path.with_suffix(".wav")
    subprocess.run(["fluidsynth", "-ni", "-R", "0", "-C", "0", "-g", "0.5", "-r", str(rate_hz), "-F", wav_path,
                    soundfont_path(), midi_path], check=True, capture_output=True)
    samples, _ = soundfile.read(wav_path, always_2d=True)
    return samples.mean(axis=1)


def banjo_notes(keys: Iterable[int], folder: Path, rate_hz: int, seconds: float = 1.5) -> dict[int, np.ndarray]:
    """Each key alone, from its onset on: where it first passes a fiftieth of its peak."""
    keys, apart = list(keys), seconds + 1.0
    track = mido.MidiTrack([mido.MetaMessage("set_tempo", tempo=500_000),
                            mido.Message("program_change", program=BANJO)])
    for key in keys:
        track.append(mido.Message("note_on", note=key, velocity=100, time=0))
        track.append(mido.Message("note_off", note=key, time=round(seconds * TICKS_PER_SECOND)))
        track.append(mido.MetaMessage("marker", text="silence", time=round(TICKS_PER_SECOND * (apart - seconds))))
    path = folder / "keys.mid"
    mido.MidiFile(ticks_per_beat=TICKS_PER_SECOND // 2, tracks=[track]).save(path)
    sound, frames = play(path, rate_hz), round(apart * rate_hz)
    return {key: _from_onset(sound[index * frames:(index + 1) * frames]) for index, key in enumerate(keys)}


def _from_onset(sound: np.ndarray) -> np.ndarray:
    return sound[np.argmax(np.abs(sound) > 0.02 * np.abs(sound).max()):]


def onsets_by_aubio(samples: np.ndarray, rate_hz: int, folder: Path) -> np.ndarray:
    """Seconds, as aubioonset hears them with the complex-domain method."""
    program = os.environ.get("FIFTHPEG_AUBIOONSET") or shutil.which("aubioonset")
    if program is None:
        pytest.fail("no aubioonset here: install it (Debian: apt-get install aubio-tools), "
                    "or name it in FIFTHPEG_AUBIOONSET")
    path = folder / "heard.wav"
    soundfile.write(path, samples, rate_hz)
    heard = subprocess.run([program, "-O", "complex", "-B", "512", "-H", "128", "-i", path],
                           check=True, capture_output=True, text=True)
    return np.array([float(line) for line in heard.stdout.split()])
