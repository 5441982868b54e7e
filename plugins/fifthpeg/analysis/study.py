"""Everything the tool notices about one lick's right hand, through one door."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ..model.findings import CLEAN, Findings, Join, Repair
from ..model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND
from ..model.lick import Lick
from ..model.note import Note
from ..model.performance import Performance
from .pace import Pace, pace_of
from .repeats import find_repeats
from .repairs import looped_repairs
from .right_hand import choose_fingers
from .rolls import name_half_rolls, name_rolls
from .saying import say
from .settle import rewritten
from .sides import meet, side_of
from .strikes import Picking, played_pickings

__all__ = ["choose_fingers", "study"]


def study(lick: Lick, notes: Sequence[Note], performance: Performance, clash_per_second: float = CLASH_PER_SECOND,
          tight_per_second: float = TIGHT_PER_SECOND) -> Findings:
    """``notes`` as written, ``performance`` with every finger filled in by ``choose_fingers``.

    A loop that is not clean comes with the repairs that would make it so.
    """
    played = {note.mark: note.finger for note in performance.notes if note.picked and note.finger}
    fingers = {note.mark: played[note.mark] for note in notes if note.mark in played}
    pickings = played_pickings(lick, notes, performance)
    pace = pace_of(lick, clash_per_second, tight_per_second)
    to_the_end = _loop(lick, pickings, fingers, True, pace)
    return Findings(
        fingers=fingers,
        repeats=find_repeats(pickings, pace),
        rolls=name_rolls(lick, notes, fingers),
        loop=_loop(lick, pickings, fingers, False, pace) if lick.exit_bars else to_the_end,
        loop_with_exit=to_the_end,
        half_rolls=name_half_rolls(lick, notes, fingers),
    )


def _loop(lick: Lick, pickings: Sequence[Picking], fingers: Mapping[str, str], with_exit: bool, pace: Pace) -> Join:
    """Repairs are only looked for where they are needed: that costs more than all the rest."""
    side = side_of(lick, with_exit, pickings)
    found = meet(side, side, pace)
    if found.verdict == CLEAN:
        return found
    fingered = side_of(rewritten(lick, fingers), with_exit, pickings)
    repairs = tuple(Repair(change.name, say(change, fingered.lick, fingered.notes))
                    for change in looped_repairs(fingered, pace))
    return replace(found, repairs=repairs)
