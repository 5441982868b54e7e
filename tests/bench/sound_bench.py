"""How much faster than real time the sound is made, in processor time: the same on one core or many."""

from collections.abc import Callable
from fractions import Fraction
from functools import partial
from time import process_time

from fifthpeg.model.bank import BankNote
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
from tests.sound.licks import FORWARD_ROLL, SLUICE_TAG, WEIR_RUN, lick_of, performed

BANK_GOAL, MIX_GOAL, BACKED_GOAL, LEVEL_GOAL = 400.0, 5_000.0, 3_000.0, 400.0
MIX_REPEATS, LEVEL_REPEATS = 50, 3


def measure() -> list[tuple[str, float, float | None]]:
    """Rows of (what, times real time, goal)."""
    return [bank_row(), *mix_rows(), *backed_rows()]


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
        tempos = {str(share): performance.quarters_per_minute * share for share in (Fraction(1, 2), Fraction(3, 4), Fraction(1))}
        jobs = [partial(mix_whole, performance, 0, stems, bank, tempo, desk) for tempo in tempos.values()]
        seconds += sum(len(job()) for job in jobs) / RATE_HZ
        mixing += sum(spent(job, MIX_REPEATS) for job in jobs)
        recording += spent(partial(record, performance, 0, stems, bank, tempos, desk), LEVEL_REPEATS)
    return [("mixing with backing, times real time", seconds / mixing, BACKED_GOAL),
            ("mixing, balance and level, times real time", seconds / recording, None)]


def spent(work: Callable[[], object], repeats: int) -> float:
    """Processor seconds of one repeat."""
    before = process_time()
    for _ in range(repeats):
        work()
    return (process_time() - before) / repeats
