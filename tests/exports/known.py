"""Links and findings written down by hand, one a line, for the words that are said of them.

    left p1 2                       note p1 is held with finger 2
    position 1.1 5                  fifth position from bar 1, slot 1
    repeat 1.4 M clash 195          the middle picks again there, a clash above 195 beats a minute
    link 2.7 Mill end               a link begins in bar 2, slot 7
    seam 0 IM tight 195             behind link 0 index and middle pick twice in a row
    seam 1 clean hold the B …       … it is clean, because of that repair
"""

from dataclasses import replace
from fractions import Fraction

from fifthpeg.model.findings import CLEAN, Findings, Join, Repair, RepeatedFinger, Seam
from fifthpeg.model.left_hand import LeftHand, Position
from fifthpeg.model.lick import Lick, Linked


def with_known(lick: Lick, text: str) -> tuple[Lick, Findings]:
    lines = [(kind, rest) for kind, _, rest in (line.partition(" ") for line in text.splitlines())]
    left = LeftHand(dict(rest.split() for kind, rest in lines if kind == "left"),
                    tuple(_position(rest) for kind, rest in lines if kind == "position"), ())
    findings = Findings({}, repeats=tuple(_repeat(rest) for kind, rest in lines if kind == "repeat"),
                        seams=tuple(_seam(rest) for kind, rest in lines if kind == "seam"), left=left)
    return replace(lick, links=tuple(_link(rest) for kind, rest in lines if kind == "link")), findings


def _place(text: str) -> tuple[int, int]:
    bar, slot = text.split(".")
    return int(bar), int(slot)


def _position(rest: str) -> Position:
    place, fret = rest.split()
    return Position(*_place(place), int(fret))


def _repeat(rest: str) -> RepeatedFinger:
    place, fingers, verdict, above = rest.split()
    return RepeatedFinger(tuple(fingers), *_place(place), 6.0, verdict, float(above))


def _link(rest: str) -> Linked:
    place, title = rest.split(" ", 1)
    return Linked(title.lower().replace(" ", "-"), title, _place(place))


def _seam(rest: str) -> Seam:
    number, first, *others = rest.split(" ")
    if first == CLEAN:
        repair = Repair("hold", " ".join(others)) if others else None
        return Seam(int(number), "a", "b", Fraction(0), Join(CLEAN), repair)
    return Seam(int(number), "a", "b", Fraction(0), Join(others[0], tuple(first), 6.0, float(others[1])))
