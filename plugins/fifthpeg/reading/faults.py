"""Gathers the faults of one block, so that all are reported at once."""

from dataclasses import replace

from ..model.problem import Place, Problem
from .fences import Block

SPOILING = ("unclosed", "bad-group")


class Faults:
    """Problems of ``block`` in the order found; rows and columns count from 0 in its source."""

    def __init__(self, block: Block):
        self.block = block
        self.problems: list[Problem] = []
        self.spoiled_rows: set[int] = set()
        self.unreadable_words = 0
        self._alike: dict[tuple[int, str], list[int]] = {}

    def add(self, span: tuple[int, int, int], kind: str, says: str, hint: str = "") -> None:
        """``span`` is (row, column, width)."""
        if kind in SPOILING:
            self.spoiled_rows.add(span[0])
        place = self.block.place(*span)
        self.problems.append(Problem(place, kind, says, self.block.quote(span[0]), hint))

    def add_unreadable(self, span: tuple[int, int, int], text: str, sort: str, hint: str) -> None:
        """A word that can't be read. Further ones of a ``sort`` on a line count with the first; "" is no sort."""
        self.unreadable_words += 1
        alike = self._alike.setdefault((span[0], sort), []) if sort else []
        if not alike:
            alike += [len(self.problems), 0]
            self.add(span, "no-such-token", f"`{text}` can't be read as a pluck", hint)
            return
        first, count = alike[0], alike[1] + 1
        alike[1] = count
        told = self.problems[first]
        says = told.says.partition("` ")[0] + f"` and {count} more like it on this line can't be read as plucks"
        self.problems[first] = replace(told, says=says)

    def add_at(self, place: Place, kind: str, says: str, hint: str, others: tuple[Place, ...] = ()) -> None:
        """For a place already known, on a line of this block."""
        quote = self.block.quote(place.line - self.block.line - 1)
        self.problems.append(Problem(place, kind, says, quote, hint, others))

    def spoils(self, row: int) -> bool:
        """Whether what stands on a row can't be counted any more, since a sign on it never closed."""
        return row in self.spoiled_rows

    def place(self, span: tuple[int, int, int]) -> Place:
        return self.block.place(*span)
