"""Chains: every link's fingers settled, accepted repairs made, all seams judged, and the whole written out as one lick."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ..model.bounce import bounced
from ..model.chain import Chain, Chained
from ..model.findings import CLEAN, Join, Seam
from ..model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND
from ..model.lick import Lick
from .composing import composed
from .repairs import Offer, loop_repairs, repairs_for
from .seams import loop, seam
from .settle import at_pace, settled
from .strikes import written_quarters


def link_up(chain: Chain, clash_per_second: float = CLASH_PER_SECOND,
            tight_per_second: float = TIGHT_PER_SECOND) -> Chained:
    """Seams go at the tempo and bounce of the chain, which are its first link's unless it says so.

    Repairs are made from left to right, each found for the licks as repaired so far, the loop's last; then all is
    judged once more, so that two changes to one short lick count together.
    """
    links = [link.lick for link in chain.links]
    judge = _Judge(links[0].tempo if chain.tempo is None else chain.tempo,
                   links[0].bounce if chain.bounce is None else chain.bounce, (clash_per_second, tight_per_second))
    licks = [settled(lick, *judge.speeds) for lick in links]
    pairs = [(index, index + 1) for index in range(len(licks) - 1)] + [(len(licks) - 1, 0)]
    made = [_mend(licks, pair, link.repair, judge) for pair, link in zip(pairs, chain.links, strict=True)]
    lick = composed(chain, licks)
    seams = [_seam(lick, licks, pair, mended, judge) for pair, mended in zip(pairs, made, strict=True)]
    ending = replace(licks[-1], exit_bars=0) if chain.keep_exit else licks[-1]
    with_exit = judge.met([*licks[:-1], ending], pairs[-1])
    return Chained(lick, tuple(seams[:-1]), seams[-1], with_exit)


@dataclass(frozen=True)
class _Judge:
    """``tempo`` and ``bounce`` are the chain's, ``speeds`` the two limits.

    A pair is two indices of licks: one before, one after; twice the same is the loop of a lick.
    """

    tempo: Fraction
    bounce: int
    speeds: tuple[float, float]

    def met(self, licks: Sequence[Lick], pair: tuple[int, int]) -> Join:
        """The join with its repairs."""
        found = self.join(licks, pair)
        offers = () if found.verdict == CLEAN else self.offers(licks, pair)
        return replace(found, repairs=tuple(offer.repair for offer in offers))

    def join(self, licks: Sequence[Lick], pair: tuple[int, int]) -> Join:
        before, after = (licks[index] for index in pair)
        if pair[0] == pair[1]:
            return loop(at_pace(before, self.tempo, self.bounce), False, *self.speeds)
        return seam(before, after, self.tempo, self.bounce, *self.speeds)

    def offers(self, licks: Sequence[Lick], pair: tuple[int, int]) -> tuple[Offer, ...]:
        before, after = (licks[index] for index in pair)
        if pair[0] == pair[1]:
            return loop_repairs(at_pace(before, self.tempo, self.bounce), False, *self.speeds)
        return repairs_for(before, after, self.tempo, self.bounce, *self.speeds)


@dataclass(frozen=True)
class _Mended:
    """What was done to a seam, and how it was before."""

    offer: Offer
    unrepaired: Join


def _mend(licks: list[Lick], pair: tuple[int, int], name: str | None, judge: _Judge) -> _Mended | None:
    """Makes the repair of that name in ``licks``, where it is on offer."""
    if name is None:
        return None
    offers = judge.offers(licks, pair)
    offer = next((offer for offer in offers if offer.name == name), None)
    if offer is None:
        return None
    unrepaired = replace(judge.join(licks, pair), repairs=tuple(offer.repair for offer in offers))
    licks[pair[0]], licks[pair[1]] = offer.before, offer.after
    return _Mended(offer, unrepaired)


def _seam(lick: Lick, licks: Sequence[Lick], pair: tuple[int, int], mended: _Mended | None, judge: _Judge) -> Seam:
    before, after = pair
    at = _start_of(lick, after) if after > before else written_quarters(lick, len(lick.bars) - lick.exit_bars)
    found = Seam(before, lick.links[before].id, lick.links[after].id, at, judge.met(licks, pair))
    return found if mended is None else replace(found, repair=mended.offer.repair, unrepaired=mended.unrepaired)


def _start_of(lick: Lick, link: int) -> Fraction:
    """Where a link's first slot begins as played, its pick-up included."""
    number, slot = lick.links[link].first
    before = [bar for bar in lick.bars if bar.number < number]
    inside = (slot - 1) * lick.slot_quarters
    return written_quarters(lick, len(before)) + bounced(inside, lick.bounce)
