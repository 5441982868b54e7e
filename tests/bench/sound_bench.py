"""How much faster than real time the sound is made, in processor time: the same on one core or many.

Each figure is the best of a few rounds, the one that others' work on the machine disturbed least.
"""

import resource
import subprocess
from collections.abc import Callable
from fractions import Fraction
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from time import process_time

import numpy as np

from fifthpeg.exports.midi import midi_bytes
from fifthpeg.model.bank import BankNote
from fifthpeg.model.lick import Lick
from fifthpeg.model.tuning import LAST_FRET, STRING_NUMBERS, TUNINGS
from fifthpeg.sound.backing import arrange
from fifthpeg.sound.backing_sounds import render_backing
from fifthpeg.sound.desk import Desk, mix_whole
from fifthpeg.sound.loudness import level
from fifthpeg.sound.mix import mix, sounds_needed
from fifthpeg.sound.perform import perform
from fifthpeg.sound.render import RATE_HZ, render_bank
from fifthpeg.sound.session import record
from fifthpeg.sound.stems import backing_sounds_needed
from fifthpeg.sound.voices import length_frames, voices
from tests.sound.licks import FORWARD_ROLL, SLUICE_TAG, WEIR_RUN, lick_of
from tests.sound.outside import soundfont_path

BANK_GOAL, MIX_GOAL, BACKED_GOAL, LEVEL_GOAL, FLUIDSYNTH_GOAL = 400.0, 5_000.0, 3_000.0, 400.0, 20.0
ROUNDS, BANK_ROUNDS = 20, 5
FLUIDSYNTH_ROUNDS, TIMES_IN_A_ROW = 3, 16
SHARES = (Fraction(1, 2), Fraction(3, 4), Fraction(1))


def measure() -> list[tuple]:
    """Rows of (what, times real time, goal or None)."""
    return [bank_row(), *mix_rows(), *backed_rows()]


def bank_row() -> tuple[str, float, float]:
    open_g = TUNINGS["open G"]
    notes = [BankNote(string, open_g.open_midi(string) + fret, fret)
             for string in STRING_NUMBERS for fret in range(0, LAST_FRET + 1, 2)]
    seconds = sum(len(sound) for sound in render_bank(notes).values()) / RATE_HZ
    return "bank notes, times real time", seconds / spent(partial(render_bank, notes), BANK_ROUNDS), BANK_GOAL


def mix_rows() -> list[tuple]:
    licks = [lick_of(*bars, tempo=208) for bars in (WEIR_RUN, SLUICE_TAG, FORWARD_ROLL)]
    performances = [perform(lick, {}) for lick in licks]
    banks = [render_bank(sounds_needed(performance, 0)) for performance in performances]
    jobs = [(performance, 0, bank, performance.quarters_per_minute * share)
            for performance, bank in zip(performances, banks, strict=True) for share in SHARES]
    recordings = [mix(*job) for job in jobs]
    seconds = sum(map(len, recordings)) / RATE_HZ
    mixing = sum(spent(partial(mix, *job)) for job in jobs)
    adding = sum(spent(plain_adding(*job)) for job in jobs)
    levelling = sum(spent(partial(level, recording, RATE_HZ), BANK_ROUNDS) for recording in recordings)
    from_nothing = spent(partial(render_licks, licks), BANK_ROUNDS)
    font = sum(map(fluidsynth_spent, licks))
    return [("mixing, times real time", seconds / mixing, MIX_GOAL),
            ("mixing, share of plain slice-adding's speed", adding / mixing, None),
            ("levelling, times real time", seconds / levelling, LEVEL_GOAL),
            ("licks mixed, times FluidSynth's speed", font / sum(map(spent, at_full_tempo(jobs))), FLUIDSYNTH_GOAL),
            ("licks with their bank, times FluidSynth's speed", font / from_nothing, None)]


def at_full_tempo(jobs: list[tuple]) -> list[Callable[[], object]]:
    return [partial(mix, *job) for job in jobs[len(SHARES) - 1::len(SHARES)]]


def render_licks(licks: list[Lick]) -> None:
    """From the written lick to samples at full tempo, nothing kept from before."""
    for lick in licks:
        performance = perform(lick, {})
        mix(performance, 0, render_bank(sounds_needed(performance, 0)), performance.quarters_per_minute)


def plain_adding(performance, capo, bank, quarters_per_minute) -> Callable[[], None]:
    """The least a mixer must do: the same sounds, as long as they are heard, added at the same frames."""
    recording = np.zeros(length_frames(performance, quarters_per_minute, RATE_HZ))
    pieces = []
    for voice in voices(performance, capo, quarters_per_minute, RATE_HZ):
        place = recording[voice.start_frame:voice.end_frame]
        sound = bank[voice.sound][:len(place)]
        pieces.append((place[:len(sound)], sound))

    def add() -> None:
        for place, sound in pieces:
            place += sound
    return add


def fluidsynth_spent(lick: Lick) -> float:
    """Processor seconds FluidSynth needs for the lick at its full tempo. It plays it once and many times in a row, so
    that its start and the loading of its font fall away."""
    with TemporaryDirectory() as folder:
        once, often = (written(times, lick, Path(folder, f"{times}.mid")) for times in (1, 1 + TIMES_IN_A_ROW))
        spent_on = [min(fluidsynth_round(path) for _ in range(FLUIDSYNTH_ROUNDS)) for path in (once, often)]
    return (spent_on[1] - spent_on[0]) / TIMES_IN_A_ROW


def written(times: int, lick: Lick, path: Path) -> Path:
    """The lick so many times in a row as a MIDI file."""
    row = lick_of(*[bar.cells for bar in lick.bars] * times, tempo=208)
    path.write_bytes(midi_bytes(row, perform(row, {})))
    return path


def fluidsynth_round(path: Path) -> float:
    """Dry, as our licks are, at our rate."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(["fluidsynth", "-ni", "-R", "0", "-C", "0", "-r", str(RATE_HZ), "-F", path.with_suffix(".wav"),
                    soundfont_path(), path], check=True, capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def backed_rows() -> list[tuple[str, float, float | None]]:
    """Two-bar licks over one chord and over two at three tempos: laid together, and as all that is done for a lick."""
    seconds = mixing = recording = 0.0
    desk = Desk(RATE_HZ)
    for chords, bars in ((("G",), WEIR_RUN), (("G", "C"), FORWARD_ROLL)):
        made = lick_of(*bars, tempo=208, chords=chords)
        performance = perform(made, {})
        stems = arrange(made, performance)
        bank = render_bank(sounds_needed(performance, 0))
        bank |= {sound: render_backing(sound, RATE_HZ) for sound in backing_sounds_needed(stems)}
        tempos = {str(share): performance.quarters_per_minute * share for share in SHARES}
        jobs = [partial(mix_whole, performance, 0, stems, bank, tempo, desk) for tempo in tempos.values()]
        seconds += sum(len(job()) for job in jobs) / RATE_HZ
        mixing += sum(spent(job) for job in jobs)
        recording += spent(partial(record, performance, 0, stems, bank, tempos, desk), BANK_ROUNDS)
    return [("mixing with backing, times real time", seconds / mixing, BACKED_GOAL),
            ("mixing, balance and level, times real time", seconds / recording, None)]


def spent(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    """Processor seconds of the quickest round."""
    def once() -> float:
        before = process_time()
        work()
        return process_time() - before
    return min(once() for _ in range(rounds))
