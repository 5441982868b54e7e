"""Licks built from the model by hand, so that the sound is tested without the reader of the tab language."""

from collections.abc import Mapping
from fractions import Fraction

from fifthpeg.model.lick import Lick
from fifthpeg.model.performance import Performance
from fifthpeg.model.tab import HAMMER_ON, PULL_OFF, SLIDE, Arrival, Bar, Cell, Hold, Pluck, Rest, Strike
from fifthpeg.sound.perform import perform

HOLD, REST = Hold(), Rest()


def pluck(string: int, fret: int = 0, **more) -> Strike:
    return Strike((Pluck(string, fret, **more),))


def pinch(*strings: int) -> Strike:
    return Strike(tuple(Pluck(string) for string in strings))


def landing_inside(string: int, fret: int, touch: str, to: int) -> Strike:
    """One slot: picked, and halfway the arrival."""
    return pluck(string, fret, arrivals=(Arrival(touch, to),))


def performed(*bars: tuple[Cell, ...], tempo: int = 160, **more) -> Performance:
    return perform(lick_of(*bars, tempo=tempo, **more), NO_FINGERS)


def lick_of(*bars: tuple[Cell, ...], tempo: int = 160, chords: tuple[str, ...] = (), **more) -> Lick:
    """``chords`` stand at the head of the first bars."""
    named = [((0, chord),) for chord in chords] + [()] * len(bars)
    numbered = tuple(Bar(number, cells, chords=over) for number, (cells, over) in enumerate(zip(bars, named), start=1))
    return Lick(numbered, title="by hand", tempo=Fraction(tempo), **more)


NO_FINGERS: Mapping[str, str] = {}
WEIR_RUN = (
    (pluck(1, 4), pluck(2, 3), pluck(3, 2), pluck(1), pluck(4), pluck(3, 2), pluck(1), pluck(4)),
    (pluck(3, 2), pluck(4, 4), HOLD, pluck(3), pluck(4, 4), pluck(3, 2), pluck(3, 5), HOLD),
)
SLUICE_TAG = (
    (pinch(1, 2), HOLD, landing_inside(3, 2, HAMMER_ON, 3), pluck(2), pluck(1), pluck(5),
     landing_inside(2, 3, PULL_OFF, 0), pluck(1)),
    (landing_inside(3, 2, SLIDE, 5), pluck(1), pluck(5), pluck(3), pluck(1), landing_inside(4, 0, HAMMER_ON, 2),
     pluck(3), pluck(1)),
    (pluck(3), HOLD, pinch(5, 1), HOLD, pluck(4), HOLD, pinch(5, 1), HOLD),
)
FORWARD_ROLL = ((pluck(3), pluck(2), pluck(1), pluck(5), pluck(2), pluck(1), pluck(3), pluck(1)),) * 2
