"""All blocks of a course together: ids, and the showings that need them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ..model.chord import chord_pitch_classes
from ..model.lick import Lick, Showing
from ..model.problem import Place, Problem
from .fences import Block
from .messages import nearest
from .parse import Defaults, Read, parse
from .showing import show, what_is_missing
from .variants import Variant, vary


@dataclass(frozen=True)
class Library:
    """``licks`` by id; ``by_block`` gives what each block draws; ``problems`` in page order.

    A block without an entry in ``by_block`` has problems; they name its page and lines.
    """

    licks: dict[str, Lick]
    by_block: dict[Block, Lick]
    problems: tuple[Problem, ...]


def read_library(blocks: Iterable[Block], defaults: Defaults = Defaults(), read=parse) -> Library:
    """``read`` may be a memoised ``parse``."""
    blocks = tuple(blocks)
    reads = {block: read(block, defaults) for block in blocks}
    problems = [problem for result in reads.values() for problem in result.problems]
    owners = _owners(reads, problems)
    resolver = Resolver(reads, owners, problems)
    by_block = {}
    for block, result in reads.items():
        lick = _shown(block, result.showing, resolver, problems) if result.showing else resolver.lick_of(block)
        if lick:
            by_block[block] = lick
    licks = {lick_id: by_block[block] for lick_id, block in owners.items() if block in by_block}
    problems += _unknown_after(by_block, owners)
    return Library(licks, by_block, tuple(sorted(set(problems))))


def _owners(reads: Mapping[Block, Read], problems: list[Problem]) -> dict[str, Block]:
    """The block that defines each id: the first in the order of pages."""
    owners: dict[str, Block] = {}
    for block, result in reads.items():
        thing = result.lick or result.variant
        if thing is None or thing.id is None:
            continue
        if thing.id in owners:
            problems.append(_taken(block, thing.id, owners[thing.id].place(0, 0)))
        else:
            owners[thing.id] = block
    return owners


class Resolver:
    """Licks of blocks, variants made from their parents on first need; a fault is reported once."""

    def __init__(self, reads: Mapping[Block, Read], owners: Mapping[str, Block], problems: list[Problem]):
        self.reads, self.owners, self.problems = reads, owners, problems
        self.done: dict[Block, Lick | None] = {}

    def lick_of(self, block: Block, path: tuple[Block, ...] = ()) -> Lick | None:
        if block not in self.done:
            self.done[block] = self._make(block, path)
        return self.done[block]

    def _make(self, block: Block, path: tuple[Block, ...]) -> Lick | None:
        result = self.reads[block]
        thing = result.lick or result.variant
        if thing is None or (thing.id is not None and self.owners[thing.id] is not block):
            return None
        return result.lick or self._vary(block, result.variant, (*path, block))

    def _vary(self, block: Block, variant: Variant, path: tuple[Block, ...]) -> Lick | None:
        parent_block = self.owners.get(variant.parent)
        place, quote = _entry_place(block, "from")
        if parent_block is None:
            self.problems.append(_unknown(variant.parent, place, quote, self.owners))
            return None
        if parent_block in path:
            others = tuple(_entry_place(other, "from")[0] for other in path if other is not block)
            self.problems.append(Problem(place, "circle", f"this variant comes back to itself: `{variant.parent}` is made from it",
                                         quote, "one lick of the circle needs a tab of its own", others))
            return None
        parent = self.lick_of(parent_block, path)
        if parent is None:
            return None
        lick, problems = vary(parent, variant, block)
        self.problems += problems
        return lick


def _taken(block: Block, lick_id: str, first: Place) -> Problem:
    place, quote = _entry_place(block, "id")
    return Problem(place, "id-taken", f"the id `{lick_id}` is taken already, on {first.page} in the block from line {first.line}",
                   quote, "give one of the two another id; to show a lick again write `show: " + lick_id + "`", (first,))


def _shown(block: Block, showing: Showing, resolver: Resolver, problems: list[Problem]) -> Lick | None:
    owner = resolver.owners.get(showing.shows)
    if owner is None:
        problems.append(_unknown(showing.shows, *_entry_place(block, "show"), resolver.owners))
        return None
    lick = resolver.lick_of(owner)
    if lick is None:
        return None
    missing = what_is_missing(lick, showing)
    if missing:
        place, quote = _entry_place(block, "bars" if showing.bars else "slots")
        problems.append(Problem(place, "bad-value", missing[0], quote, missing[1], others=(lick.place,)))
        return None
    return show(lick, showing)


def _unknown(lick_id: str, place: Place, quote: str, known: Iterable[str]) -> Problem:
    return Problem(place, "unknown-lick", f"no lick in this course has the id `{lick_id}`", quote, _nearest_id(lick_id, known))


def _nearest_id(wanted: str, known: Iterable[str]) -> str:
    like = nearest(wanted, tuple(known))
    return f"do you mean `{like}`?" if like else "give the lick an `id:` where it is written, and use the same here"


def _unknown_after(by_block: Mapping[Block, Lick], licks: Mapping[str, Block]) -> list[Problem]:
    problems = []
    for block, lick in by_block.items():
        if lick.after and not lick.shows and not _is_chord(lick.after) and lick.after not in licks:
            place, quote = _entry_place(block, "after")
            problems.append(Problem(place, "unknown-lick", f"`after` names neither a chord nor a lick of this course: `{lick.after}`",
                                    quote, _nearest_id(lick.after, licks)))
    return problems


def _is_chord(name: str) -> bool:
    try:
        chord_pitch_classes(name)
    except ValueError:
        return False
    return True


def _entry_place(block: Block, key: str) -> tuple[Place, str]:
    """Where a key's words stand in its block."""
    for row_index, row in enumerate(block.source.split("\n")):
        name, colon, rest = row.partition(":")
        if colon and name.strip() == key:
            column = len(row) - len(rest.lstrip()) if rest.strip() else 0
            return block.place(row_index, column, max(1, len(rest.strip()))), block.quote(row_index)
    return block.place(0, 0), block.quote(0)
