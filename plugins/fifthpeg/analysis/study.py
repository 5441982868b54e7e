"""Everything the tool notices about one lick, through one door."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import groupby

from ..model.chain import Chained
from ..model.findings import CLEAN, Findings, Join, Repair, RepeatedFinger, Seam
from ..model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND, WIDEST_SPAN_MM
from ..model.lick import Lick
from ..model.note import Note
from ..model.performance import Performance
from .chain import link_up
from .harmony import harmony
from .left_hand import left_hand
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
          tight_per_second: float = TIGHT_PER_SECOND, widest_span_mm: float = WIDEST_SPAN_MM) -> Findings:
    """``notes`` as written, ``performance`` with every finger filled in by ``choose_fingers``.

    A loop that is not clean comes with the repairs that would make it so. What repeats across a seam of a chain is
    told of the seam, not as a mark; a part of a chain keeps the seams that lie in it.
    """
    played = {note.mark: note.finger for note in performance.notes if note.picked and note.finger}
    fingers = {note.mark: played[note.mark] for note in notes if note.mark in played}
    pickings = played_pickings(lick, notes, performance)
    pace = pace_of(lick, clash_per_second, tight_per_second)
    chained = link_up(lick.chain, clash_per_second, tight_per_second) if lick.chain else None
    loop, to_the_end = _loops(lick, pickings, fingers, pace, chained)
    return Findings(
        fingers=fingers,
        repeats=tuple(_inside_links(lick, pickings, pace)),
        rolls=name_rolls(lick, notes, fingers),
        seams=tuple(_seams_in(lick, chained)) if chained else (),
        loop=loop,
        loop_with_exit=to_the_end,
        half_rolls=name_half_rolls(lick, notes, fingers),
        left=left_hand(lick, notes, widest_span_mm),
        harmony=harmony(lick),
    )


def _inside_links(lick: Lick, pickings: Sequence[Picking], pace: Pace) -> Iterator[RepeatedFinger]:
    """The finger was last heard in the same link; links come one after another, and no bar twice."""
    if not lick.links:
        yield from find_repeats(pickings, pace)
        return
    for _, group in groupby(pickings, key=lambda picking: lick.link_at(picking.bar, picking.slot)):
        yield from find_repeats(list(group), pace)


def _seams_in(lick: Lick, chained: Chained) -> Iterator[Seam]:
    """Those with both sides drawn, ``at`` counted from the first bar drawn."""
    shown = {(bar.number, slot) for bar in lick.bars
             for slot in range(bar.first_slot_index + 1, bar.first_slot_index + bar.slot_count + 1)}
    cut = _left_out(lick)
    for seam in chained.seams:
        begins = chained.lick.links[seam.link + 1].first
        if begins in shown and begins != min(shown):
            yield replace(seam, at=seam.at - cut)


def _left_out(part: Lick) -> Fraction:
    """Quarters of the whole chain before the part that a showing draws."""
    if part.whole is None or not part.bars:
        return Fraction(0)
    first = part.bars[0]
    before = sum(bar.slot_count for bar in part.whole.bars if bar.number < first.number) + first.first_slot_index
    return before * part.slot_quarters


def _loops(lick: Lick, pickings: Sequence[Picking], fingers: Mapping[str, str], pace: Pace,
           chained: Chained | None) -> tuple[Join, Join]:
    """Without the exit and with it; a whole chain's repairs are offered for its last and its first link."""
    if chained and lick.whole is None:
        return chained.loop.join, chained.loop_with_exit
    to_the_end = _loop(lick, pickings, fingers, True, pace)
    return _loop(lick, pickings, fingers, False, pace) if lick.exit_bars else to_the_end, to_the_end


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
