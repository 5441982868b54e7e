"""A chain block's links found, held against each other, and put together; what its seams need is reported."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from ..model.chain import Chain, Chained, Link
from ..model.lick import MAX_BARS, Lick, Showing
from ..model.play_order import kept_order
from ..model.problem import Problem
from .asking import Asked
from .chain_keys import AskedLink
from .fences import Block
from .faults import Faults
from .keys import MAX_TITLE, title_from
from .mixed import mixed_links
from .seam_faults import report_seams
from .shelf import Shelf
from .showing import show, what_is_missing
from .tempos import shares

LinkUp = Callable[[Chain], Chained]
EXIT_HINT = "inside a chain an exit falls away: name bars before it, or take the link out"


@dataclass(frozen=True)
class Chaining:
    """What a chain block became; ``chained`` is None where it can't be put together."""

    chained: Chained | None
    problems: tuple[Problem, ...]


def put_together(block: Block, asked: Asked, shelf: Shelf, rights: str, link_up: LinkUp) -> Chaining:
    """``rights`` are the site's."""
    faults = Faults(block)
    links = [_link(link, block, shelf, faults) for link in asked.links]
    if faults.problems:
        return Chaining(None, tuple(faults.problems))
    values = _checked(asked, links, faults)
    if faults.problems:
        return Chaining(None, tuple(faults.problems))
    chained = link_up(_chain(values, asked, links, rights, faults))
    drawable = report_seams(chained, asked.links, faults)
    return Chaining(chained if drawable else None, tuple(faults.problems))


def _link(asked: AskedLink, block: Block, shelf: Shelf, faults: Faults) -> Link | None:
    place, quote = block.place(*asked.id_span), block.quote(asked.id_span[0])
    problem = shelf.why_not(asked.id, place, quote)
    if problem:
        faults.problems.append(problem)
        return None
    lick = shelf.lick(asked.id)
    if asked.bars:
        showing = Showing(asked.id, asked.bars)
        missing = what_is_missing(lick, showing)
        if missing:
            place = block.place(*asked.bars_span)
            faults.problems.append(Problem(place, "bad-value", missing[0], quote, missing[1], (lick.place,)))
            return None
        lick = show(lick, showing)
    return Link(lick, asked.repair, block.place(*asked.span), quote)


def _checked(asked: Asked, links: Sequence[Link], faults: Faults) -> dict[str, Any]:
    """The chain's own values, once all that its links decide has been looked at."""
    licks = [link.lick for link in links]
    keep_exit = asked.values.get("exit", True)
    mixed_links(licks, asked.links, faults)
    _check_bars(licks, asked, keep_exit, faults)
    values = dict(asked.values)
    first = licks[0]
    if values.get("bounce", 50) != 50 and (first.grid == 4 or first.meter.is_compound):
        faults.add(asked.entries["bounce"].span, "bad-value",
                   f"{first.meter} with slots of 1/{first.grid} has no pairs "
                   "of eighths to bounce", "leave `bounce` out here")
    if values.get("context") and not values.get("after", first.after):
        faults.add(asked.entries["context"].span, "bad-value",
                   "`context: yes`, but nothing says what this chain is meant to follow", "write `after:` with a chord "
                   "or the id of a lick; for example `after: D7`")
    if "tempos" in values:
        tempo = values.get("tempo", first.tempo)
        values["tempos"] = shares(values["tempos"], tempo, asked.entries["tempos"], faults)
    return values


def _check_bars(licks: Sequence[Lick], asked: Asked, keep_exit: bool, faults: Faults) -> None:
    total = 0
    for index, (lick, link) in enumerate(zip(licks, asked.links, strict=True)):
        bars = _bars_played(lick, keep_exit and index == len(licks) - 1)
        total += bars
        if not bars and lick.exit_bars:
            faults.add(link.span, "bad-value", f"nothing of `{link.id}` is left here: it is all exit", EXIT_HINT)
        elif not bars:
            faults.add(link.span, "bad-value", f"a pick-up alone is no link: `{link.id}` has no whole bar here",
                       "name at least one whole bar")
    if total > MAX_BARS:
        faults.add(asked.entries["links"].key_span, "bar-length",
                   f"this chain has {total} bars; {MAX_BARS} are the most",
                   "split it into several chains")


def _bars_played(lick: Lick, with_exit: bool) -> int:
    """Whole bars with repeats unfolded, the pick-up left out."""
    return sum(lick.bars[index].number > 0 for index in kept_order(lick, with_exit))


def _chain(values: dict[str, Any], asked: Asked, links: Sequence[Link], rights: str, faults: Faults) -> Chain:
    first = links[0].lick
    roles = {link.lick.role for link in links}
    return Chain(
        links=tuple(links), id=asked.id, title=values.get("title") or _title(asked, links),
        role=values.get("role") or (roles.pop() if len(roles) == 1 else "lick"), key=values.get("key", first.key),
        tempo=values.get("tempo"), tempos=values.get("tempos"), bounce=values.get("bounce"),
        after=values.get("after", first.after), labels=values.get("labels", ()), rights=values.get("rights", rights),
        keep_exit=values.get("exit", True), loop=values.get("loop", False), context=values.get("context", False),
        place=faults.place((0, 0, 1)))


def _title(asked: Asked, links: Sequence[Link]) -> str:
    """The id in words, or the links' titles in a row as far as they fit."""
    if asked.id:
        return title_from(asked.id)
    titles = [link.lick.title or name.id for link, name in zip(links, asked.links, strict=True)]
    whole = ", then ".join(titles)
    return whole if len(whole) <= MAX_TITLE else f"{titles[0]}, then {len(titles) - 1} more"
