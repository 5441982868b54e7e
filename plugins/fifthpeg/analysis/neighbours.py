"""What goes with what: every ordered pair of a library judged as neighbours in a chain."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..model.chain import chained_kind
from ..model.findings import CLASH, CLEAN, TIGHT
from ..model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND
from ..model.lick import Lick
from .edges import end_edge, in_ticks, limits_of, start_edge, ticks_per_quarter, verdict_codes
from .pace import pace_of
from .settle import at_pace, settled
from .sides import Side, side_of

VERDICTS = (CLEAN, TIGHT, CLASH)
NO_SEAM_CODE = -1


@dataclass(frozen=True)
class GoesWith:
    """``codes[i, j]`` says how lick j follows lick i; read it through ``verdict``."""

    codes: np.ndarray

    def verdict(self, before_index: int, after_index: int) -> str | None:
        """None where the two can't be in one chain, or the pick-up of the second finds no room over the first."""
        code = self.codes[before_index, after_index]
        return None if code == NO_SEAM_CODE else VERDICTS[code]


def goes_with(licks: Sequence[Lick], clash_per_second: float = CLASH_PER_SECOND,
              tight_per_second: float = TIGHT_PER_SECOND) -> GoesWith:
    """Each pair at the full tempo and the bounce of its first, as a chain of the two would have it.

    The same verdicts as ``seams.seam`` gives one by one. Repairs are not looked for.
    """
    speeds = clash_per_second, tight_per_second
    licks = [settled(lick, *speeds) for lick in licks]
    codes = np.full((len(licks), len(licks)), NO_SEAM_CODE, np.int8)
    for bounce in sorted({lick.bounce for lick in licks}):
        rows = [row for row, lick in enumerate(licks) if lick.bounce == bounce]
        sides = [side_of(licks[row]) for row in rows]
        starts = [start_edge(side_of(at_pace(lick, lick.tempo, bounce), with_exit=True)) for lick in licks]
        ends = [end_edge(side) for side in sides]
        per_quarter = ticks_per_quarter((*ends, *starts))
        limits = limits_of([pace_of(side.lick, *speeds) for side in sides], per_quarter)
        codes[rows] = verdict_codes(in_ticks(ends, per_quarter), in_ticks(starts, per_quarter), limits)
        codes[rows] = np.where(may_meet(sides, licks), codes[rows], NO_SEAM_CODE)
    return GoesWith(codes)


def may_meet(befores: Sequence[Side], afters: Sequence[Lick]) -> np.ndarray:
    """bool [befores, afters]: alike enough for one chain, and with room for the pick-up."""
    kinds: dict[tuple, int] = {}

    def kind(lick: Lick) -> int:
        return kinds.setdefault(chained_kind(lick), len(kinds))

    before_kinds = np.array([kind(side.lick) for side in befores])
    after_kinds = np.array([kind(lick) for lick in afters])
    room = np.array([float(side.room) for side in befores])
    lead = np.array([float(lick.pickup * lick.slot_quarters) for lick in afters])
    return (before_kinds[:, None] == after_kinds[None, :]) & (lead[None, :] <= room[:, None])
