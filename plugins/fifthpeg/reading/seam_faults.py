"""What the seams of a chain put together need: said in a player's words, at the link they follow."""

from collections.abc import Sequence
from fractions import Fraction

from ..model.chain import Chained
from ..model.findings import CLASH, CLEAN, Join, Seam
from ..model.hands import the_finger
from ..model.lick import Lick
from .chain_keys import AskedLink
from .faults import Faults
from .messages import listed

NO_REPAIR = "no small repair was found: put another lick between them, or play no faster than {slowest}"
NO_LOOP_REPAIR = "no small repair was found: change its last notes or its first, or play no faster than {slowest}"


def report_seams(chained: Chained, asked: Sequence[AskedLink], faults: Faults) -> bool:
    """Whether the chain can be drawn all the same: not where a pick-up has no room to lie over."""
    has_room = True
    for seam in chained.seams:
        link, follower = asked[seam.link], asked[seam.link + 1]
        if seam.join.has_room:
            _report(seam, link, f"from `{link.id}` to `{follower.id}`", NO_REPAIR, chained, True, faults)
        else:
            has_room = False
            _no_room(follower, link, chained.lick.chain.links[seam.link + 1].lick.pickup, faults)
    is_looped = chained.lick.chain.loop
    last = asked[chained.loop.link]
    if chained.loop.join.has_room:
        _report(chained.loop, last, f"looped, from `{last.id}` back to `{asked[0].id}`", NO_LOOP_REPAIR, chained,
                is_looped, faults)
    elif is_looped:
        _no_room(last, last, chained.lick.pickup, faults, f"looped, the pick-up of `{asked[0].id}`")
    return has_room


def _report(seam: Seam, link: AskedLink, where: str, no_repair: str, chained: Chained, clash_matters: bool,
            faults: Faults) -> None:
    if link.repair and seam.repair is None:
        _report_repair(seam.join, link, where, faults)
    elif seam.join.verdict == CLASH and clash_matters:
        faults.add(link.span, "seam-clash", f"{where} {_what_repeats(seam.join, chained.lick)}",
                   _offers(seam.join, link) or no_repair.format(slowest=_number(seam.join.clashes_above)))


def _report_repair(join: Join, link: AskedLink, where: str, faults: Faults) -> None:
    if join.verdict == CLEAN:
        faults.add(link.span, "repair-not-needed", f"{where} no finger repeats at speed, so there is nothing for "
                   f"`{link.repair}` to repair", "take the repair out")
    else:
        faults.add(link.span, "repair-does-not-help", f"{where} `{link.repair}` would not mend it",
                   _offers(join, link) or "no small repair was found: take the repair out")


def _what_repeats(join: Join, lick: Lick) -> str:
    who = listed([the_finger(finger) for finger in join.fingers], "and") or "one finger"
    picks = "pick" if len(join.fingers) > 1 else "picks"
    return (f"{who} {picks} twice in a row, {join.per_second:.1f} times a second at {_number(lick.tempo)}; "
            f"it clashes above {_number(join.clashes_above)}")


def _number(beats: float | Fraction) -> str:
    """To a tenth, and no more than it needs."""
    return f"{float(beats):.1f}".removesuffix(".0")


def _offers(join: Join, link: AskedLink) -> str:
    """How to accept a repair, and what each would be; empty where there is none."""
    if not join.repairs:
        return ""
    bars = f", bars: {link.bars[0]}-{link.bars[1]}" if link.bars else ""
    first, *others = join.repairs
    also = "".join(f"; or `{repair.name}`: {repair.says}" for repair in others)
    return f"write `{{id: {link.id}{bars}, repair: {first.name}}}`: {first.says}{also}"


def _no_room(place: AskedLink, before: AskedLink, slots: int, faults: Faults, what: str = "") -> None:
    counted = f"{slots} slot{'s' * (slots != 1)}"
    faults.add(place.span, "bad-pickup",
               f"{what or f'the pick-up of `{place.id}`'} ({counted}) has no room at the end of "
               f"`{before.id}`",
               f"a pick-up lies over what comes before it: let `{before.id}` end in {counted} of hold or rest")
