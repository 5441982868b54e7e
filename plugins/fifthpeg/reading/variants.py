"""A variant: its parent with some changes, so that a correction of the parent reaches it."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from ..model.lick import Lick
from ..model.problem import Problem
from .changes import Change, Rewritten, Stand, apply_changes, reread
from .faults import Faults
from .fences import Block
from .header import Entry
from .writing import write_bars


@dataclass(frozen=True)
class Variant:
    """What a block with ``from`` says, before its parent is known; ``values`` are its own header values."""

    parent: str
    values: Mapping[str, Any]
    changes: tuple[Change, ...]
    from_span: tuple[int, int, int]

    @property
    def id(self) -> str | None:
        return self.values.get("id")


def read_variant(values: dict[str, Any], entries: Mapping[str, Entry]) -> Variant:
    changes = entries.get("change")
    spans = zip(changes.items, changes.item_spans, strict=True) if changes else ()
    own = {key: value for key, value in values.items() if key not in ("from", "change")}
    return Variant(values["from"], own, tuple(Change(text, span) for text, span in spans), entries["from"].span)


def vary(parent: Lick, variant: Variant, block: Block) -> tuple[Lick | None, tuple[Problem, ...]]:
    """The variant as a lick of its own, or the faults that stand against it, each naming the parent too."""
    faults = Faults(block)
    frame = _frame(parent, variant, faults)
    start = tuple(Stand(bar.number, bar) for bar in parent.bars)
    inherited = Faults(Rewritten(block, Change("", variant.from_span), {}))
    stands = reread(start, write_bars(parent.bars), frame, inherited)
    if not inherited.problems:
        stands = apply_changes(stands, variant.changes, frame, block, faults)
    problems = tuple(replace(problem, others=(parent.place,)) for problem in inherited.problems + faults.problems)
    return (None, problems) if problems else (_finished(parent, frame, stands, variant), ())


def _frame(parent: Lick, variant: Variant, faults: Faults) -> Lick:
    """The parent's header with the variant's own keys laid over it."""
    renamed = {"exit": "exit_bars"}
    own = {renamed.get(key, key): value for key, value in variant.values.items()}
    if own.pop("tempos_in_beats", False):
        own["tempos"] = tuple(beats / parent.tempo for beats in own["tempos"])
    return replace(parent, **({"id": None, "title": parent.title} | own), varies=variant.parent, shows=None,
                   place=faults.place((0, 0, 1)))


def _finished(parent: Lick, frame: Lick, stands: tuple[Stand, ...], variant: Variant) -> Lick:
    first = 0 if frame.pickup else 1
    bars = tuple(replace(stand.bar, number=first + index) for index, stand in enumerate(stands))
    exit_bars = frame.exit_bars
    if "exit" not in variant.values and parent.exit_bars:
        exit_start = parent.bars[-1].number - parent.exit_bars + 1
        left = {stand.number for stand in stands}
        gone = [bar for bar in parent.bars if bar.number >= exit_start and bar.number not in left]
        exit_bars -= len(gone)
    return replace(frame, bars=bars, exit_bars=exit_bars, changed=tuple(_changed(parent, stands, bars)),
                   parent_bars=tuple(stand.number for stand in stands))


def _changed(parent: Lick, stands: tuple[Stand, ...], bars: tuple) -> list[tuple[int, int]]:
    """Where the variant's cells differ from those of the parent's bar."""
    before = {bar.number: bar for bar in parent.bars}
    places = []
    for stand, bar in zip(stands, bars, strict=True):
        old = dict(before[stand.number].placed_cells()) if stand.number is not None else {}
        places += [(bar.number, slot_index + 1) for slot_index, cell in bar.placed_cells()
                   if old.get(slot_index) != cell]
    return places
