"""The geometry of a drawing, before any markup. Pixels, y downwards, each bar from its own top left corner."""

from dataclasses import dataclass

from .lettering import width_of
from .proportions import CAP_HEIGHT, DESCENT

_ANCHOR_SHARE = {"start": 0.0, "middle": 0.5, "end": 1.0}
_HANGING = set("gjpqy,;()[]Q@")


@dataclass(frozen=True)
class Box:
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: "Box") -> bool:
        return (self.left < other.right and other.left < self.right
                and self.top < other.bottom and other.top < self.bottom)


@dataclass(frozen=True)
class Label:
    """Words on a baseline at ``y``; ``anchor`` says which part of them stands at ``x``. ``says`` is told of them
    alone, where they are pointed at."""

    kind: str
    words: str
    x: float
    y: float
    size: float
    anchor: str = "middle"
    says: str = ""

    @property
    def box(self) -> Box:
        width = width_of(self.words, self.size)
        left = self.x - width * _ANCHOR_SHARE[self.anchor]
        hangs = any(letter in _HANGING or not letter.isascii() for letter in self.words)
        return Box(left, self.y - CAP_HEIGHT * self.size, left + width, self.y + DESCENT * self.size * hangs)


@dataclass(frozen=True)
class Stroke:
    """Straight lines from point to point."""

    kind: str
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Curve:
    """A quadratic curve."""

    kind: str
    start: tuple[float, float]
    control: tuple[float, float]
    end: tuple[float, float]


@dataclass(frozen=True)
class Disc:
    kind: str
    x: float
    y: float
    radius: float


@dataclass(frozen=True)
class Block:
    kind: str
    box: Box


@dataclass(frozen=True)
class Sign:
    """The shape of a verdict around (x, y), with its ``shaft`` where it is a pin, and what it ``says``."""

    kind: str
    verdict: str
    says: str
    x: float
    y: float
    shaft: Stroke | None = None


Shape = Label | Stroke | Curve | Disc | Block | Sign


@dataclass(frozen=True)
class Head:
    """A note's number on its string, with all that lights up when it sounds."""

    mark: str
    string: int
    fret: str
    says: str
    label: Label
    halo: Box
    ornaments: tuple[Shape, ...] = ()


@dataclass(frozen=True)
class DrawnBar:
    """``number`` is 0 for a pick-up."""

    number: int
    width: float
    height: float
    heads: tuple[Head, ...]
    shapes: tuple[Shape, ...]


def centred(kind: str, words: str, x: float, y: float, size: float) -> Label:
    """Capitals or digits with their middle at (x, y)."""
    return Label(kind, words, x, y + CAP_HEIGHT * size / 2, size)


def arc(kind: str, left: float, right: float, base: float, rise: float) -> Curve:
    """A bow over (under, where ``rise`` is negative) a base line."""
    return Curve(kind, (left, base), ((left + right) / 2, base - 2 * rise), (right, base))


def arc_opening(kind: str, left: float, edge: float, base: float, rise: float) -> Curve:
    """The first half of a bow, level where it leaves at the right edge."""
    return Curve(kind, (left, base), (left + (edge - left) * 0.4, base - rise), (edge, base - rise))


def arc_closing(kind: str, right: float, base: float, rise: float) -> Curve:
    """The second half of a bow, level where it enters at the left edge."""
    return Curve(kind, (0, base - rise), (right * 0.6, base - rise), (right, base))
