"""One lick as the pages see it: read, compiled and lying on the shelf."""

from dataclasses import dataclass
from pathlib import Path

from ..compiled import Facts, SmallTab
from ..model.cell_words import CellWords
from ..model.lick import Lick
from .addresses import FILE_ENDINGS, Address, wav_ending


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

    @property
    def endings(self) -> tuple[str, ...]:
        """How the names of its files end, those of the recordings that were made last."""
        return (*FILE_ENDINGS, *map(wav_ending, self.facts.recordings))
