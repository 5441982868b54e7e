"""Licks made at random that can follow one another: one meter and grid, quick, with few holes."""

from fractions import Fraction

from fifthpeg.model.lick import Lick
from fifthpeg.model.meter import Meter
from fifthpeg.model.tab import Bar, Hold, Rest
from hypothesis import strategies as st
from tests.generated import cells, strikes

METER = Meter(2, 4)
SLOTS = 4


@st.composite
def neighbours(draw, fingered: bool = True) -> Lick:
    """One to three bars of 2/4, perhaps with a pick-up, a repeat, an exit, a bounce."""
    single = strikes(1, fingered)
    either = st.one_of(single, strikes(2, fingered), single, st.just(Hold()), cells(fingered))
    pickup = draw(st.sampled_from((0, 0, 0, 1, 2)))
    bars = [Bar(0, tuple(draw(either) for _ in range(pickup)))] if pickup else []
    for number in range(1, draw(st.integers(1, 3)) + 1):
        played = [draw(either) for _ in range(SLOTS)]
        empty = draw(st.sampled_from((0, 0, 1, 2)))
        played[SLOTS - empty:] = [draw(st.sampled_from((Hold(), Rest())))] * empty
        bars.append(Bar(number, tuple(played), repeat_times=draw(st.sampled_from((0, 0, 0, 2)))))
    short = pickup and draw(st.booleans())
    if short:
        bars[-1] = Bar(bars[-1].number, bars[-1].cells[:SLOTS - pickup])
    return Lick(tuple(bars), title="Made", meter=METER, pickup=pickup, tempo=Fraction(draw(st.integers(90, 260))),
                bounce=draw(st.sampled_from((50, 50, 60))), capo=draw(st.sampled_from((0, 0, 0, 0, 2))),
                exit_bars=draw(st.integers(0, 1)) if len(bars) > 2 and not short else 0)
