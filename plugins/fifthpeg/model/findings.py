"""What the tool notices about the hands; never a fault, always a help."""

from dataclasses import dataclass
from fractions import Fraction

from .harmony import Harmony
from .left_hand import LeftHand

CLEAN, TIGHT, CLASH = "clean", "tight", "clash"
REPAIRED = "repaired"
"""Of a seam in a fit: clean, once its repair is accepted."""


@dataclass(frozen=True)
class RepeatedFinger:
    """Fingers that pick twice in a row, at the second pick.

    ``per_second`` is the rate of the repeat at full tempo; ``clashes_above`` the tempo in
    the lick's own beats a minute above which it clashes.
    """

    fingers: tuple[str, ...]
    bar: int
    slot: int
    per_second: float
    verdict: str
    clashes_above: float


@dataclass(frozen=True)
class Roll:
    """``half`` is None where the roll fills its bar, else 1 or 2."""

    bar: int
    name: str
    half: int | None = None


@dataclass(frozen=True)
class Repair:
    """A change that makes a join clean; ``says`` it in a player's words."""

    name: str
    says: str


@dataclass(frozen=True)
class Join:
    """How the end of one lick meets a beginning: of the next (a seam), or its own (a loop).

    ``has_room`` is False where a pick-up finds neither empty slots nor a short bar to lie
    over: it is judged as if it came after the end, and the count of bars does not come out.
    """

    verdict: str
    fingers: tuple[str, ...] = ()
    per_second: float | None = None
    clashes_above: float | None = None
    repairs: tuple[Repair, ...] = ()
    has_room: bool = True


@dataclass(frozen=True)
class Seam:
    """The join of link number ``link`` (from 0) and the next, ``at`` quarters from the start.

    ``join`` is as it is played, a ``repair`` made; ``unrepaired``, where one was made, is as it was before, with all
    that would mend it.
    """

    link: int
    from_id: str
    to_id: str
    at: Fraction
    join: Join
    repair: Repair | None = None
    unrepaired: Join | None = None


@dataclass(frozen=True)
class Findings:
    """``fingers`` maps the mark of each pluck to the finger that picks it, given or chosen.

    ``half_rolls`` are of the halves of bars that have no roll of their own in ``rolls``.
    """

    fingers: dict[str, str]
    repeats: tuple[RepeatedFinger, ...] = ()
    rolls: tuple[Roll, ...] = ()
    seams: tuple[Seam, ...] = ()
    loop: Join = Join(CLEAN)
    loop_with_exit: Join = Join(CLEAN)
    half_rolls: tuple[Roll, ...] = ()
    left: LeftHand = LeftHand({}, (), ())
    harmony: Harmony = Harmony((), None, (), ())


@dataclass(frozen=True)
class Fit:
    """A chain of library licks that fills a number of bars.

    ``seams`` are clean, repaired or tight, one between each two ``links``; ``repairs`` the name of the repair each
    takes, or None. ``before`` and ``before_repair`` say the same of the seam with the lick it follows, None without one.
    ``exit_kept`` is None where the last link has no exit.
    """

    links: tuple[str, ...]
    exit_kept: bool | None
    seams: tuple[str, ...] = ()
    repairs: tuple[str | None, ...] = ()
    before: str | None = None
    before_repair: str | None = None


@dataclass(frozen=True)
class Fits:
    """The ``best`` of ``count`` chains. ``without_chords`` are ids of licks that don't say what they go over;
    ``nearest_lengths``, where there is no chain, the next shorter and longer number of bars that have one."""

    best: tuple[Fit, ...]
    count: int
    without_chords: tuple[str, ...] = ()
    nearest_lengths: tuple[int, ...] = ()
