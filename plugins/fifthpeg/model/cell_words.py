"""One cell of a bar in words, so that two licks can be compared slot by slot."""

from dataclasses import dataclass

HELD, SILENT = "held on", "rest"
"""What is said of a cell in which nothing begins."""


@dataclass(frozen=True)
class CellWords:
    """``slot`` counts from 1 and is the first of ``slots``. ``place`` is where in the bar, ``the and of beat 2``;
    ``says`` is what is done there, nothing escaped."""

    bar: int
    slot: int
    slots: int
    place: str
    says: str
