"""How long it takes to think about the hands: processor time, plain or times a walk through the notes."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import partial
from random import Random
from time import process_time

from fifthpeg.analysis.fits import find_fits
from fifthpeg.analysis.left_hand import left_hand
from fifthpeg.analysis.neighbours import goes_with
from fifthpeg.analysis.repairs import repairs_for
from fifthpeg.analysis.seams import seam
from fifthpeg.analysis.settle import settled
from fifthpeg.analysis.study import choose_fingers, study
from fifthpeg.model.hands import REACH
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import written_notes
from fifthpeg.model.tab import Bar, Hold, Pluck, Strike
from fifthpeg.sound.perform import perform

SEED = 4
LIBRARY = 500
ROLL = ((3, "T"), (2, "I"), (1, "M"), (5, "T"), (1, "M"), (2, "I"), (3, "T"), (1, "M"))
Row = tuple[str, float, float | None, str]


def measure() -> list[Row]:
    """Rows of (what, figure, goal, which way it is met)."""
    return [*one_lick(), *library()]


def one_lick() -> list[Row]:
    clean = rolling(3)
    notes = written_notes(clean)
    walk = spent(partial(written_notes, clean), 100)
    studied = spent(partial(study, clean, notes, perform(clean, {})), 100)
    sixteen, sixty_four = (made_up(Random(SEED), bars, fingered=False) for bars in (16, 64))
    short = spent(partial(choose_fingers, sixteen, written_notes(sixteen)), 5)
    long = spent(partial(choose_fingers, sixty_four, written_notes(sixty_four)), 3)
    fretted = made_up(Random(SEED), 3)
    fretting = spent(partial(left_hand, fretted, written_notes(fretted)), 20)
    return [
        ("study of 3 clean bars, ms", studied * 1000, 1.5, "at most"),
        ("study of 3 clean bars, times listing the notes", studied / walk, 3, "at most"),
        ("fingers of 16 bars, ms", short * 1000, 5, "at most"),
        ("fingers of 64 bars, times those of 16", long / short, 5, "at most"),
        ("left hand of 3 bars, ms", fretting * 1000, 5, "at most"),
    ]


def library() -> list[Row]:
    random = Random(SEED)
    licks = [replace(made_up(random, random.choice((1, 2, 2, 3))), id=f"lick-{number}") for number in range(LIBRARY)]
    licks = [replace(lick, exit_bars=int(len(lick.bars) > 1 and number % 2)) for number, lick in enumerate(licks)]
    pairs = [(random.choice(licks), random.choice(licks)) for _ in range(100)]
    unclean = [pair for pair in pairs if seam(*pair).verdict != "clean"]
    repairing = spent(lambda: [repairs_for(*pair) for pair in unclean], 1) / len(unclean)
    settling = spent(lambda: [settled(bare(lick)) for lick in licks], 1)
    return [
        ("what goes with what of 500 licks, s", spent(partial(goes_with, licks), 1), 2, "at most"),
        ("16 bars filled from 500 licks, s", spent(partial(find_fits, licks, 16, "G"), 1), 1, "at most"),
        ("repairs of one seam, ms", repairing * 1000, 10, "at most"),
        ("settling 500 licks without fingers, s", settling, 2, "at most"),
    ]


def rolling(bars: int) -> Lick:
    strikes = tuple(Strike((Pluck(string, 0, finger),)) for string, finger in ROLL)
    return Lick(tuple(Bar(number, strikes) for number in range(1, bars + 1)), tempo=Fraction(208))


def made_up(random: Random, bars: int, fingered: bool = True) -> Lick:
    """Eighths over G by any finger that reaches, some of them held."""
    filled = tuple(Bar(number, tuple(cell(random, fingered) for _ in range(8)), chords=((0, "G"),))
                   for number in range(1, bars + 1))
    return Lick(filled, title="Made up", tempo=Fraction(208))


def cell(random: Random, fingered: bool) -> Strike | Hold:
    if random.random() < 0.15:
        return Hold()
    finger = random.choice("TIM")
    string = random.choice(REACH[finger])
    return Strike((Pluck(string, 0 if string == 5 else random.choice((0, 0, 2, 3)), finger if fingered else None),))


def bare(lick: Lick) -> Lick:
    """Without its fingers."""
    def unfingered(cell: Strike | Hold) -> Strike | Hold:
        return replace(cell, plucks=(replace(cell.plucks[0], finger=None),)) if isinstance(cell, Strike) else cell

    return replace(lick, bars=tuple(replace(bar, cells=tuple(map(unfingered, bar.cells))) for bar in lick.bars))


def spent(work: Callable[[], object], repeats: int) -> float:
    """Processor seconds of one repeat."""
    before = process_time()
    for _ in range(repeats):
        work()
    return (process_time() - before) / repeats
