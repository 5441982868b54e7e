"""Licks in a row, as a chain block asks for them, before anyone has put them together."""

from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from .findings import Join, Seam
from .lick import Lick
from .problem import Place
from .tuning import short_string_stop

MAX_LINKS = 64
REPAIR_NAMES = ("hold", "thumb", "refinger", "single", "pinch")
"""What a chain block may ask for; what each does is said where it is made."""
CHAINED_ALIKE: Mapping[str, Callable[[Lick], Hashable]] = {
    "meter": lambda lick: lick.meter,
    "slots": lambda lick: lick.grid,
    "tuning": lambda lick: lick.tuning.pitches,
    "capo": lambda lick: lick.capo,
    "short string": lambda lick: short_string_stop(lick.capo, lick.fifth) - lick.capo,
}
"""What the links of a chain share, and how two licks are compared in it. A short string that only goes along with the
capo is no difference of its own."""


def chained_kind(lick: Lick) -> tuple[Hashable, ...]:
    """Equal for licks that may be links of one chain."""
    return tuple(of(lick) for of in CHAINED_ALIKE.values())


def differences(one: Lick, other: Lick) -> tuple[str, ...]:
    """What keeps two licks out of one chain, in words; empty where nothing does."""
    return tuple(word for word, of in CHAINED_ALIKE.items() if of(one) != of(other))


@dataclass(frozen=True)
class Link:
    """``lick`` with its exit still on; where only part of it is wanted, a showing of it; of a chain, that chain put
    together. ``repair`` names the repair accepted for the seam after this link (after the last: for the loop).

    ``place`` and ``quote`` are where the block names the link.
    """

    lick: Lick
    repair: str | None = None
    place: Place | None = field(default=None, compare=False)
    quote: str = field(default="", compare=False)


@dataclass(frozen=True)
class Chain:
    """``tempo`` in beats a minute, ``tempos`` and ``bounce`` are the first link's where None. ``keep_exit``: whether the
    last link keeps its exit. ``context``: to be heard after what it is meant to follow.
    """

    links: tuple[Link, ...]
    id: str | None = None
    title: str = ""
    role: str = "lick"
    key: str = "G"
    tempo: Fraction | None = None
    tempos: tuple[Fraction, ...] | None = None
    bounce: int | None = None
    after: str = ""
    labels: tuple[str, ...] = ()
    rights: str = ""
    keep_exit: bool = True
    loop: bool = False
    context: bool = False
    place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Chained:
    """A chain put together: ``lick`` as it is drawn and played, and its ``seams``, one between each two links.

    ``loop`` is the seam of the last link, its exit left out, with the first, and holds the repair accepted after the
    last link; ``loop_with_exit`` is the same join with the exit the lick keeps. A repair asked for and not on offer is
    not made: its seam's ``repair`` is None.
    """

    lick: Lick
    seams: tuple[Seam, ...]
    loop: Seam
    loop_with_exit: Join


@dataclass(frozen=True)
class FitRequest:
    """``bars`` to fill ``over`` one chord. ``after`` is a chord, a lick, or None.

    ``roles``, ``keys`` and ``labels`` narrow the library (empty: no narrowing; a lick needs one of each that is
    given); ``with_ids`` name licks to use and no others. ``tempo`` and ``bounce`` as in a chain.
    """

    bars: int
    over: str
    after: Lick | str | None = None
    most: int = 5
    roles: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()
    labels: tuple[str, ...] = ()
    with_ids: tuple[str, ...] = ()
    tempo: Fraction | None = None
    bounce: int | None = None
    title: str = ""
    place: Place | None = field(default=None, compare=False)
