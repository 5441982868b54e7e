"""How much faster than real time the sound is made, in processor time: the same on one core or many."""

from collections.abc import Callable
from fractions import Fraction
from functools import partial
from time import process_time

from fifthpeg.model.bank import BankNote
from fifthpeg.model.tuning import LAST_FRET, STRING_NUMBERS, TUNINGS
from fifthpeg.sound.loudness import level
from fifthpeg.sound.mix import mix, sounds_needed
from fifthpeg.sound.render import RATE_HZ, render_bank
from tests.sound.licks import FORWARD_ROLL, SLUICE_TAG, WEIR_RUN, performed

BANK_GOAL, MIX_GOAL, LEVEL_GOAL = 400.0, 5_000.0, 400.0
MIX_REPEATS, LEVEL_REPEATS = 50, 3


def measure() -> list[tuple[str, float, float]]:
    """Rows of (what, times real time, goal)."""
    return [bank_row(), *mix_rows()]


def bank_row() -> tuple[str, float, float]:
    open_g = TUNINGS["open G"]
    notes = [BankNote(string, open_g.open_midi(string) + fret, fret)
             for string in STRING_NUMBERS for fret in range(0, LAST_FRET + 1, 2)]
    seconds = sum(len(sound) for sound in render_bank(notes).values()) / RATE_HZ
    return "bank notes, times real time", seconds / spent(partial(render_bank, notes), 1), BANK_GOAL


def mix_rows() -> list[tuple[str, float, float]]:
    performances = [performed(*bars, tempo=208) for bars in (WEIR_RUN, SLUICE_TAG, FORWARD_ROLL)]
    banks = [render_bank(sounds_needed(performance, 0)) for performance in performances]
    jobs = [(performance, 0, bank, performance.quarters_per_minute * share)
            for performance, bank in zip(performances, banks, strict=True)
            for share in (Fraction(1, 2), Fraction(3, 4), Fraction(1))]
    recordings = [mix(*job) for job in jobs]
    seconds = sum(map(len, recordings)) / RATE_HZ
    mixing = sum(spent(partial(mix, *job), MIX_REPEATS) for job in jobs)
    levelling = sum(spent(partial(level, recording, RATE_HZ), LEVEL_REPEATS) for recording in recordings)
    return [("mixing, times real time", seconds / mixing, MIX_GOAL),
            ("levelling, times real time", seconds / levelling, LEVEL_GOAL)]


def spent(work: Callable[[], object], repeats: int) -> float:
    """Processor seconds of one repeat."""
    before = process_time()
    for _ in range(repeats):
        work()
    return (process_time() - before) / repeats
