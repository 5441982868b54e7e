"""Everything the tool notices about one lick's right hand, through one door."""

from collections.abc import Mapping, Sequence

from ..model.findings import Findings, Join
from ..model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND
from ..model.lick import Lick
from ..model.note import Note
from ..model.performance import Performance
from .pace import Pace, pace_of
from .repeats import find_repeats
from .right_hand import choose_fingers
from .rolls import name_rolls
from .sides import meet, side_of
from .strikes import Picking, played_pickings

__all__ = ["choose_fingers", "study"]


def study(lick: Lick, notes: Sequence[Note], performance: Performance, clash_per_second: float = CLASH_PER_SECOND,
          tight_per_second: float = TIGHT_PER_SECOND) -> Findings:
    """``notes`` as written, ``performance`` with every finger filled in by ``choose_fingers``.

    Repairs of a loop that is not clean are not offered yet: its ``repairs`` is empty.
    """
    played = {note.mark: note.finger for note in performance.notes if note.picked and note.finger}
    fingers = {note.mark: played[note.mark] for note in notes if note.mark in played}
    pickings = played_pickings(lick, notes, performance)
    pace = pace_of(lick, clash_per_second, tight_per_second)
    return Findings(
        fingers=fingers,
        repeats=find_repeats(pickings, pace),
        rolls=name_rolls(lick, notes, fingers),
        loop=_loop(lick, pickings, fingers, False, pace),
        loop_with_exit=_loop(lick, pickings, fingers, True, pace),
    )


def _loop(lick: Lick, pickings: Sequence[Picking], fingers: Mapping[str, str], with_exit: bool, pace: Pace) -> Join:
    side = side_of(lick, with_exit, pickings)
    found = meet(side, side, pace)
    return found
