"""Where in a lick something is, in a player's words."""

from collections.abc import Iterable

from .published import Published
from .words import listed


def place(tab: Published, bar: int, slot: int) -> str:
    """``bar 2, beat 3``; ``slot`` counts from 1."""
    return f"{bar_name(bar)}, {within_bar(tab, bar, slot)}"


def places(tab: Published, spots: Iterable[tuple[int, int]]) -> str:
    """``bar 1, beat 2 and beat 3; bar 2, beat 1``; each (bar, slot) once, in their order."""
    by_bar: dict[int, list[str]] = {}
    for bar, slot in spots:
        said = by_bar.setdefault(bar, [])
        name = within_bar(tab, bar, slot)
        if name not in said:
            said.append(name)
    return "; ".join(f"{bar_name(bar)}, {listed(tuple(said))}" for bar, said in by_bar.items())


def bar_name(bar: int) -> str:
    return f"bar {bar}" if bar else "the pick-up"


def within_bar(tab: Published, bar: int, slot: int) -> str:
    """The beat of the cell the slot lies in; its number where no cell is known."""
    found = (cell.place for cell in tab.cells if cell.bar == bar and cell.slot <= slot < cell.slot + cell.slots)
    return next(found, f"slot {slot}")
