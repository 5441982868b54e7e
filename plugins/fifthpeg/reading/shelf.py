"""The licks made so far, by id, and what is said where a block names one that isn't there."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from ..model.lick import Lick
from ..model.problem import Place, Problem
from .fences import Block
from .messages import nearest


@dataclass(frozen=True)
class Shelf:
    """``owners`` are the blocks that define each id; ``made`` fills up as their licks are made."""

    owners: Mapping[str, Block]
    made: dict[Block, Lick] = field(default_factory=dict)

    def lick(self, lick_id: str) -> Lick | None:
        owner = self.owners.get(lick_id)
        return self.made.get(owner) if owner else None

    def why_not(self, lick_id: str, place: Place, quote: str) -> Problem | None:
        """What is wrong with naming an id there; None where its lick is at hand."""
        if lick_id not in self.owners:
            return unknown(lick_id, place, quote, self.owners)
        if self.lick(lick_id) is not None:
            return None
        return Problem(place, "unknown-lick", f"`{lick_id}` can't be used yet, since something in it wants mending",
                       quote,
                       f"mend `{lick_id}` first", (self.owners[lick_id].place(0, 0),))


def unknown(lick_id: str, place: Place, quote: str, known: Iterable[str]) -> Problem:
    return Problem(place, "unknown-lick", f"no lick in this course has the id `{lick_id}`", quote,
                   nearest_id(lick_id, known))


def after_nothing(said: str, place: Place, quote: str, known: Iterable[str]) -> Problem:
    return Problem(place, "unknown-lick", f"`after` names neither a chord nor a lick of this course: `{said}`", quote,
                   nearest_id(said, known))


def nearest_id(wanted: str, known: Iterable[str]) -> str:
    like = nearest(wanted, tuple(known))
    return f"do you mean `{like}`?" if like else "give the lick an `id:` where it is written, and use the same here"


def entry_place(block: Block, key: str) -> tuple[Place, str]:
    """Where a key's words stand in its block."""
    for row_index, row in enumerate(block.source.split("\n")):
        name, colon, rest = row.partition(":")
        if colon and name.strip() == key:
            column = len(row) - len(rest.lstrip()) if rest.strip() else 0
            return block.place(row_index, column, max(1, len(rest.strip()))), block.quote(row_index)
    return block.place(0, 0), block.quote(0)
