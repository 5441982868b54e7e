"""How two licks in a row meet, and how a lick meets itself."""

from fractions import Fraction

from ..model.findings import Join
from ..model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND
from ..model.lick import Lick
from .pace import pace_of
from .settle import at_pace, settled
from .sides import Side, meet, side_of


def seam(before: Lick, after: Lick, tempo: Fraction | None = None, bounce: int | None = None,
         clash_per_second: float = CLASH_PER_SECOND, tight_per_second: float = TIGHT_PER_SECOND) -> Join:
    """The join of two neighbours in a chain: the exit of ``before`` falls away.

    ``tempo`` (in beats of the block) and ``bounce`` are ``before``'s where None, as for the first link of a
    chain. Missing fingers are first chosen for each lick by itself at its own tempo. No repairs are
    looked for here.
    """
    speeds = clash_per_second, tight_per_second
    tempo, bounce = before.tempo if tempo is None else tempo, before.bounce if bounce is None else bounce
    first, second = (at_pace(settled(lick, *speeds), tempo, bounce) for lick in (before, after))
    return meet(side_of(first), side_of(second, with_exit=True), pace_of(first, *speeds))


def loop(lick: Lick, with_exit: bool = False, clash_per_second: float = CLASH_PER_SECOND,
         tight_per_second: float = TIGHT_PER_SECOND) -> Join:
    """The join of a lick with itself, its exit left out or kept each time round."""
    speeds = clash_per_second, tight_per_second
    return looped(side_of(settled(lick, *speeds), with_exit), *speeds)


def loop_with_exit(lick: Lick, clash_per_second: float = CLASH_PER_SECOND,
                   tight_per_second: float = TIGHT_PER_SECOND) -> Join:
    return loop(lick, True, clash_per_second, tight_per_second)


def looped(side: Side, clash_per_second: float, tight_per_second: float) -> Join:
    return meet(side, side, pace_of(side.lick, clash_per_second, tight_per_second))
