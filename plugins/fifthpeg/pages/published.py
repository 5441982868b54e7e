"""One lick as the pages see it: read, compiled and lying on the shelf."""

from dataclasses import dataclass
from pathlib import Path

from ..compiled import Facts, SmallTab
from ..model.cell_words import CellWords
from ..model.lick import Lick
from .addresses import Address


@dataclass(frozen=True)
class Published:
    """``entry`` is the shelf's folder with its files; ``bank_folder`` an address ending in a slash."""

    lick: Lick
    address: Address
    facts: Facts
    inline: str
    player: str
    words: tuple[str, ...]
    bank_folder: str
    entry: Path
    cells: tuple[CellWords, ...] = ()
    ending: SmallTab | None = None
