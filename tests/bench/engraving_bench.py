"""How fast licks are drawn, against the same notes written as JSON in the same run, in processor time."""

import json
from collections.abc import Callable
from fractions import Fraction
from functools import partial
from time import process_time

from fifthpeg.engraving.draw import draw
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import written_notes
from fifthpeg.model.tab import HAMMER_ON, Arrival, Bar, Pluck, Strike

GOAL = 40.0
"""A drawing, in both its forms, costs at most so many plain dumps of its notes."""
REPEATS = 60
FORWARD_REVERSE = ((3, "T"), (2, "I"), (1, "M"), (5, "T"), (1, "M"), (2, "I"), (3, "T"), (1, "M"))


def measure() -> list[tuple[str, float, float, str]]:
    """Rows of (what, figure, goal, which way it is met)."""
    lick = three_bars()
    notes = written_notes(lick)
    draw(lick, notes)
    drawing = spent(partial(draw, lick, notes))
    dumping = spent(partial(json.dumps, [vars(note) for note in notes], default=str))
    return [("drawing three bars, times dumping them as JSON", drawing / dumping, GOAL, "at most")]


def three_bars() -> Lick:
    """Eighths throughout, a hammer-on inside the first slot of every bar."""
    strikes = [Strike((Pluck(string, 0, finger),)) for string, finger in FORWARD_REVERSE]
    strikes[0] = Strike((Pluck(3, 2, "T", "2", (Arrival(HAMMER_ON, 3, "3"),)),))
    bars = tuple(Bar(number, tuple(strikes), chords=((0, "G"),)) for number in (1, 2, 3))
    return Lick(bars, title="Three bars", tempo=Fraction(160))


def spent(work: Callable[[], object]) -> float:
    """Processor seconds of one repeat."""
    before = process_time()
    for _ in range(REPEATS):
        work()
    return (process_time() - before) / REPEATS
