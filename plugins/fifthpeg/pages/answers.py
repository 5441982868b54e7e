"""What is found out about the library as a whole, kept on the shelf by what was asked."""

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from ..compiled import Filling, Neighbours
from ..model.chain import FitRequest
from ..model.findings import Fits, Join
from .fingerprint import content_key, text_key
from .kept import as_json, from_plain
from .published import Published
from .shelf import Shelf

ANSWER_FILE = "answer.json"
ANSWERS_KEPT_UNUSED = 40


@dataclass(frozen=True)
class Answers:
    """``salt`` stands for settings and program; ``used`` gathers the keys this build asked for."""

    folder: Path
    salt: str
    used: set[str] = field(default_factory=set)

    def fits(self, request: FitRequest, library: Sequence[Published], find: Callable[[], Fits]) -> Fits:
        kept = self._kept(content_key(request, self.salt), library, find)
        return from_plain(Fits, kept)

    def neighbours(self, library: Sequence[Published], judge: Callable[[], Neighbours]) -> Neighbours:
        kept = self._kept("neighbours", library, judge)
        return Neighbours(tuple(kept["ids"]), tuple(kept["rows"]),
                          {pair: from_plain(Join, join) for pair, join in kept["joins"].items()})

    def fillings(self, library: Sequence[Published], find: Callable[[], Sequence[Filling]]) -> tuple[Filling, ...]:
        return tuple(from_plain(Filling, kept) for kept in self._kept("fillings", library, find))

    def prune(self) -> None:
        self._shelf.prune(self.used, ANSWERS_KEPT_UNUSED)

    def _kept(self, asked: str, library: Sequence[Published], make: Callable[[], object]) -> Any:
        """An answer as JSON values; it is made anew when any lick of the library is another."""
        key = text_key(self.salt, asked, *(f"{tab.lick.id} {tab.entry.name}" for tab in library))
        self.used.add(key)
        entry = self._shelf.find(key) or self._shelf.keep(key, {ANSWER_FILE: as_json(make()).encode()})
        return json.loads((entry / ANSWER_FILE).read_bytes())

    @property
    def _shelf(self) -> Shelf:
        return Shelf(self.folder / "answers")
