"""All blocks of a course together: ids, and the variants, showings, chains and fits that need them."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from ..model.chain import Chain, Chained, FitRequest
from ..model.chord import is_chord
from ..model.lick import Lick, Showing
from ..model.problem import Place, Problem
from .faults import Faults
from .fences import Block
from .fitting import fit_request
from .linking import LinkUp, put_together
from .order import in_order
from .parse import Defaults, Read, parse
from .shelf import Shelf, after_nothing, entry_place
from .showing import show, what_is_missing
from .variants import Variant, vary


def no_chains(_: Chain) -> Chained:
    """Raises: reading a chain needs someone to put it together."""
    raise TypeError("this course has chain blocks: hand over the function that puts chains together")


@dataclass(frozen=True)
class Library:
    """``licks`` by id; ``by_block`` gives what each tab or chain block draws; ``chains`` and ``fits`` what is
    asked for besides; ``problems`` in page order.

    A block without an entry in any of them has problems; they name its page and lines.
    """

    licks: dict[str, Lick]
    by_block: dict[Block, Lick]
    problems: tuple[Problem, ...]
    chains: dict[Block, Chained]
    fits: dict[Block, FitRequest]


def read_library(blocks: Iterable[Block], defaults: Defaults = Defaults(),
                 read: Callable[[Block, Defaults], Read] = parse, link_up: LinkUp = no_chains) -> Library:
    """``read`` may be a memoised ``parse``. ``link_up`` puts chains together."""
    blocks = tuple(blocks)
    reads = {block: read(block, defaults) for block in blocks}
    maker = _Maker(reads, defaults, link_up)
    maker.make_all()
    by_block = {block: maker.shelf.made[block] for block in blocks if block in maker.shelf.made}
    licks = {lick_id: by_block[block] for lick_id, block in maker.shelf.owners.items() if block in by_block}
    problems = maker.problems + _unknown_after(reads, maker.shelf.owners)
    return Library(licks, by_block, tuple(sorted(set(problems))), maker.chains, maker.fits)


class _Maker:
    """Makes each block once all it needs is made; gathers what is wrong."""

    def __init__(self, reads: Mapping[Block, Read], defaults: Defaults, link_up: LinkUp):
        self.reads, self.defaults, self.link_up = reads, defaults, link_up
        self.problems = [problem for read in reads.values() for problem in read.problems]
        self.shelf = Shelf(self.owners())
        self.chains: dict[Block, Chained] = {}
        self.fits: dict[Block, FitRequest] = {}

    def owners(self) -> dict[str, Block]:
        """The block that defines each id: the first in the order of pages."""
        owners: dict[str, Block] = {}
        for block, read in self.reads.items():
            if read.id in owners:
                self.problems.append(_taken(block, read.id, owners[read.id].place(0, 0)))
            elif read.id is not None:
                owners[read.id] = block
        return owners

    def make_all(self) -> None:
        order, circles = in_order(self.reads, self.needs)
        self.problems += [self.circle(circle) for circle in circles]
        lost = {block for circle in circles for block in circle}
        for block in order:
            if block not in lost and self.is_first(block):
                self.make(block, self.reads[block])
        for block, read in self.reads.items():
            if read.fit:
                self.fit(block, read)

    def is_first(self, block: Block) -> bool:
        lick_id = self.reads[block].id
        return lick_id is None or self.shelf.owners[lick_id] is block

    def needs(self, block: Block) -> list[Block]:
        """A variant of a chain is refused, so it needs none."""
        owners = (self.shelf.owners.get(lick_id) for lick_id in _named(self.reads[block]))
        is_variant = self.reads[block].variant is not None
        return [owner for owner in owners if owner and not (is_variant and owner.name == "chain")]

    def make(self, block: Block, read: Read) -> None:
        if read.lick:
            self.shelf.made[block] = read.lick
        elif read.variant:
            self.keep(block, self.vary(block, read.variant))
        elif read.showing:
            self.keep(block, self.show(block, read.showing))
        elif read.chain:
            made = put_together(block, read.chain, self.shelf, self.defaults.rights, self.link_up)
            self.problems += made.problems
            if made.chained:
                self.chains[block] = made.chained
                self.shelf.made[block] = made.chained.lick

    def keep(self, block: Block, lick: Lick | None) -> None:
        if lick:
            self.shelf.made[block] = lick

    def named(self, block: Block, key: str, lick_id: str) -> Lick | None:
        """The lick that a key of the block names; what stands against it is reported."""
        problem = self.shelf.why_not(lick_id, *entry_place(block, key))
        self.problems += [problem] if problem else []
        return self.shelf.lick(lick_id)

    def vary(self, block: Block, variant: Variant) -> Lick | None:
        owner = self.shelf.owners.get(variant.parent)
        if owner and owner.name == "chain":
            self.problems.append(_variant_of_a_chain(block, variant.parent, owner))
            return None
        parent = self.named(block, "from", variant.parent)
        if parent is None:
            return None
        lick, problems = vary(parent, variant, block)
        self.problems += problems
        return lick

    def show(self, block: Block, showing: Showing) -> Lick | None:
        lick = self.named(block, "show", showing.shows)
        if lick is None:
            return None
        missing = what_is_missing(lick, showing)
        if missing:
            place, quote = entry_place(block, "bars" if showing.bars else "slots")
            self.problems.append(Problem(place, "bad-value", missing[0], quote, missing[1], others=(lick.place,)))
            return None
        return show(lick, showing)

    def fit(self, block: Block, read: Read) -> None:
        faults = Faults(block)
        request = fit_request(block, read.fit, self.shelf, faults)
        self.problems += faults.problems
        if request:
            self.fits[block] = request

    def circle(self, circle: tuple[Block, ...]) -> Problem:
        """Told where it closes; every other block of it is named by the line that leads on."""
        names = [(block, self.reads[after].id) for block, after in zip(circle, (*circle[1:], circle[0]), strict=True)]
        (block, back), ways = names[-1], names[:-1]
        place, quote = self.way(block, back)
        others = tuple(self.way(*way)[0] for way in ways)
        if self.reads[block].chain is None:
            return Problem(place, "circle", f"this variant comes back to itself: `{back}` is made from it", quote,
                           "one lick of the circle needs a tab of its own", others)
        what = f"`{back}` is made of it" if ways else f"`{back}` is its own link"
        return Problem(place, "circle", f"this chain comes back to itself: {what}", quote,
                       "take the link out; a chain to be played round and round says `loop: yes`", others)

    def way(self, block: Block, lick_id: str) -> tuple[Place, str]:
        chain = self.reads[block].chain
        if chain is None:
            return entry_place(block, "from")
        span = next(link.id_span for link in chain.links if link.id == lick_id)
        return block.place(*span), block.quote(span[0])


def _named(read: Read) -> list[str]:
    if read.variant:
        return [read.variant.parent]
    if read.showing:
        return [read.showing.shows]
    return [link.id for link in read.chain.links] if read.chain else []


def _taken(block: Block, lick_id: str, first: Place) -> Problem:
    place, quote = entry_place(block, "id")
    return Problem(place, "id-taken",
                   f"the id `{lick_id}` is taken already, on {first.page} in the block from line {first.line}",
                   quote, "give one of the two another id; to show a lick again write `show: " + lick_id + "`",
                   (first,))


def _variant_of_a_chain(block: Block, chain_id: str, owner: Block) -> Problem:
    place, quote = entry_place(block, "from")
    return Problem(place, "bad-value", f"`{chain_id}` is a chain, and a chain has no variants", quote,
                   "make a variant of the link you want otherwise, and a chain with that", (owner.place(0, 0),))


def _unknown_after(reads: Mapping[Block, Read], owners: Mapping[str, Block]) -> list[Problem]:
    """Told in the block that says so, not in those that take it over from there."""
    problems = []
    for block, read in reads.items():
        said = _own_after(read)
        if said and not is_chord(said) and said not in owners:
            problems.append(after_nothing(said, *entry_place(block, "after"), owners))
    return problems


def _own_after(read: Read) -> str:
    if read.lick:
        return read.lick.after
    said = read.variant or read.chain or read.fit
    return said.values.get("after", "") if said else ""
