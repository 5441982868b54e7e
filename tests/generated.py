"""Licks made at random from the model's own nouns, for hypothesis. Any of them could be written as a block."""

from fractions import Fraction

from fifthpeg.model.hands import REACH, RIGHT_FINGERS
from fifthpeg.model.lick import Lick
from fifthpeg.model.meter import Meter
from fifthpeg.model.tab import (CHOKE, HAMMER_ON, PULL_OFF, RELEASE, SLIDE, Arrival, Bar, Group, Hold, Landing, Pluck,
                                Rest, Strike)
from fifthpeg.model.tuning import TUNINGS
from hypothesis import strategies as st

LONG_STRINGS = (1, 2, 3, 4)
METERS = (Meter(4, 4), Meter(2, 4), Meter(3, 4), Meter(2, 2), Meter(6, 8))


@st.composite
def plucks(draw, string_number: int, fingered: bool = True) -> Pluck:
    if string_number not in LONG_STRINGS:
        return Pluck(string_number, finger="T" if fingered and draw(st.booleans()) else None)
    finger = draw(st.sampled_from([f for f in RIGHT_FINGERS if string_number in REACH[f]])) if fingered else None
    kind = draw(st.sampled_from(("plain",) * 4 + ("arrivals", "choke", "chime", "damped")))
    fret = draw(st.integers(0, 10))
    finger = draw(st.sampled_from((finger, None)))
    if kind == "arrivals":
        return Pluck(string_number, fret, finger, arrivals=draw(arrivals(fret)))
    if kind == "choke":
        bend = draw(st.sampled_from((Fraction(1, 2), Fraction(1), Fraction(2))))
        return Pluck(string_number, fret + 1, finger, choke_semitones=bend, release=draw(st.booleans()))
    if kind == "chime":
        return Pluck(string_number, 12, finger, chime=True)
    if kind == "damped":
        return Pluck(string_number, 0, finger, damped=True)
    return Pluck(string_number, fret, finger, vibrato=draw(st.booleans()))


@st.composite
def arrivals(draw, fret: int) -> tuple[Arrival, ...]:
    reached = []
    for target in draw(st.lists(st.integers(0, 15), min_size=1, max_size=2)):
        if target != fret:
            touch = draw(st.sampled_from((SLIDE, HAMMER_ON if target > fret else PULL_OFF)))
            reached.append(Arrival(touch, target))
            fret = target
    return tuple(reached)


@st.composite
def strikes(draw, most_plucks: int = 2, fingered: bool = True) -> Strike:
    strings = draw(st.lists(st.integers(1, 5), min_size=1, max_size=most_plucks, unique=True))
    chosen = tuple(draw(plucks(string_number, fingered)) for string_number in strings)
    written = [pluck.finger for pluck in chosen if pluck.finger]
    if len(set(written)) < len(written):
        chosen = chosen[:1]
    return Strike(chosen, accent=draw(st.booleans()))


@st.composite
def cells(draw, fingered: bool = True):
    kind = draw(st.sampled_from(("strike",) * 6 + ("hold", "rest", "group")))
    if kind == "strike":
        return draw(strikes(fingered=fingered))
    if kind == "group":
        return Group(tuple(draw(st.lists(strikes(1, fingered), min_size=2, max_size=4))))
    return Hold() if kind == "hold" else Rest()


@st.composite
def choked(draw, slots: int) -> tuple:
    """A note choked and let down in slots of their own, then held."""
    bend = draw(st.sampled_from((Fraction(1), Fraction(3, 2))))
    up = Strike((), (Landing(2, CHOKE, 8, semitones=bend),))
    down = Strike((), (Landing(2, RELEASE, 8),))
    return (Strike((Pluck(2, 8, "I"),)), up, down, *(Hold(),) * (slots - 3))


@st.composite
def licks(draw, most_bars: int = 3, fingered: bool = True) -> Lick:
    """Meters, grids, tunings, capos, bounce, pick-ups, repeats and exits of every kind the language has."""
    meter, grid = draw(st.sampled_from(METERS)), draw(st.sampled_from((8, 16)))
    slots = int(meter.slots(grid))
    pickup = draw(st.sampled_from((0, 0, 1, 2)))
    bars = [Bar(0, tuple(draw(cells(fingered)) for _ in range(pickup)))] if pickup else []
    for number in range(1, draw(st.integers(1, most_bars)) + 1):
        filled = tuple(draw(cells(fingered)) for _ in range(slots))
        if draw(st.integers(0, 5)) == 0 and slots >= 3:
            filled = draw(choked(slots))
        bars.append(Bar(number, filled, repeat_times=draw(st.sampled_from((0, 0, 0, 2, 3)))))
    return Lick(
        bars=tuple(bars), id="made", title="Made at random", meter=meter, grid=grid, pickup=pickup,
        tempo=Fraction(draw(st.integers(40, 240))), tuning=draw(st.sampled_from(list(TUNINGS.values()))),
        capo=draw(st.integers(0, 3)), exit_bars=draw(st.integers(0, 1)) if len(bars) > 2 else 0,
        bounce=50 if meter.is_compound else draw(st.sampled_from((50, 60, 66))),
    )


@st.composite
def licks_with_endings(draw) -> Lick:
    """A bar of 2/4 and its two endings, quick, with few holes."""
    either = st.one_of(strikes(1), strikes(1), strikes(2), st.just(Hold()))
    played, first, second = (tuple(draw(either) for _ in range(4)) for _ in range(3))
    bars = (Bar(1, played, opens_repeat=True), Bar(2, first, ending=1, repeat_times=2), Bar(3, second, ending=2))
    return Lick(bars, meter=Meter(2, 4), tempo=Fraction(draw(st.integers(120, 240))))
