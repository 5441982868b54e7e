"""Gathers the faults of one block, so that all are reported at once."""

from ..model.problem import Place, Problem
from .fences import Block

SPOILING = ("unclosed", "bad-group")


class Faults:
    """Problems of ``block`` in the order found; rows and columns count from 0 in its source."""

    def __init__(self, block: Block):
        self.block = block
        self.problems: list[Problem] = []
        self.spoiled_rows: set[int] = set()

    def add(self, span: tuple[int, int, int], kind: str, says: str, hint: str = "") -> None:
        """``span`` is (row, column, width)."""
        if kind in SPOILING:
            self.spoiled_rows.add(span[0])
        place = self.block.place(*span)
        self.problems.append(Problem(place, kind, says, self.block.quote(span[0]), hint))

    def add_at(self, place: Place, kind: str, says: str, hint: str) -> None:
        """For a place already known, on a line of this block."""
        self.problems.append(Problem(place, kind, says, self.block.quote(place.line - self.block.line - 1), hint))

    def spoils(self, row: int) -> bool:
        """Whether what stands on a row can't be counted any more, since a sign on it never closed."""
        return row in self.spoiled_rows

    def place(self, span: tuple[int, int, int]) -> Place:
        return self.block.place(*span)
