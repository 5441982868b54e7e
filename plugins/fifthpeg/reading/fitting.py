"""A fit block's request, once the licks it names are known."""

from ..model.chain import FitRequest
from ..model.chord import is_chord
from ..model.lick import Lick
from .asking import Asked
from .chain_keys import Within
from .faults import Faults
from .fences import Block
from .shelf import Shelf, after_nothing, entry_place

DEFAULT_MOST = 5


def fit_request(block: Block, asked: Asked, shelf: Shelf, faults: Faults) -> FitRequest | None:
    """None after a fault."""
    values = asked.values
    within = values.get("with", Within())
    for lick_id, span in within.ids:
        problem = shelf.why_not(lick_id, block.place(*span), block.quote(span[0]))
        faults.problems += [problem] if problem else []
    after = _after(block, values.get("after"), shelf, faults)
    if faults.problems:
        return None
    return FitRequest(
        bars=values["fill"], over=values["over"], after=after, most=values.get("most", DEFAULT_MOST),
        roles=within.roles, keys=within.keys, labels=within.labels,
        with_ids=tuple(lick_id for lick_id, _ in within.ids),
        tempo=values.get("tempo"), bounce=values.get("bounce"), title=values.get("title", ""),
        place=faults.place((0, 0, 1)))


def _after(block: Block, said: str | None, shelf: Shelf, faults: Faults) -> Lick | str | None:
    if said is None or is_chord(said):
        return said
    place, quote = entry_place(block, "after")
    known = said in shelf.owners
    problem = shelf.why_not(said, place, quote) if known else after_nothing(said, place, quote, shelf.owners)
    faults.problems += [problem] if problem else []
    return shelf.lick(said)
