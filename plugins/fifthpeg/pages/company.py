"""Who may stand before and after whom in a chain, with those first that suit by their chords."""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain, filterfalse, islice
from operator import itemgetter

from ..compiled import VERDICT_SIGNS, Neighbours
from ..model.findings import CLASH, CLEAN, TIGHT
from .harmony_words import last_chord
from .published import Published

VERDICTS = (CLEAN, TIGHT, CLASH)
LISTED_IN_FULL = 100
"""Licks of a library; the pages of a larger one list the first of each kind only, or they would grow past all use."""
MOST_LISTED = {CLEAN: 24, TIGHT: 12, CLASH: 0}
"""Names a list has in such a library."""


@dataclass(frozen=True)
class Others:
    """The licks on one side of a lick: how many of each verdict (None: not in one chain with it), and those to be
    listed, the ones that suit it first."""

    counts: Mapping[str | None, int]
    listed: Mapping[str, Sequence[Published]]

    @property
    def joined(self) -> int:
        """How many can stand there at all."""
        return sum(self.counts[verdict] for verdict in VERDICTS)


@dataclass(frozen=True)
class Company:
    """``tabs`` are the library's, in the order of the pages."""

    tabs: Sequence[Published] = ()
    neighbours: Neighbours = field(default_factory=Neighbours)

    def __bool__(self) -> bool:
        return bool(self.neighbours.ids)

    @property
    def is_listed_in_full(self) -> bool:
        return len(self.neighbours.ids) <= LISTED_IN_FULL

    def after(self, tab: Published) -> Others:
        """Those that may follow it."""
        suited = [*self._meant_after.get(tab.lick.id, ()), *self._meant_after.get(last_chord(tab), ())]
        return self._others(self.neighbours.rows[self._places[tab.lick.id or ""]], suited)

    def before(self, tab: Published) -> Others:
        """Those that it may follow."""
        wanted = tab.lick.after
        suited = [wanted] if wanted in self._places else self._ending_on.get(wanted, ())
        return self._others(self._columns[self._places[tab.lick.id or ""]], suited if wanted else ())

    def counts_by_role(self, tab: Published, roles: Sequence[str]) -> Iterator[dict[str | None, int]]:
        """How many licks of each role may follow it, by verdict."""
        signs = self.neighbours.rows[self._places[tab.lick.id or ""]]
        return (_counts(self._pick_role[role](signs)) for role in roles)

    def _others(self, signs: str, suited: Iterable[str]) -> Others:
        counts = _counts(signs)
        first = dict.fromkeys(self._places[lick_id] for lick_id in suited)
        listed = {}
        for verdict in VERDICTS:
            most = counts[verdict] if self.is_listed_in_full else MOST_LISTED[verdict]
            order = chain(first, filterfalse(first.__contains__, self._in_order))
            alike = (self._by_place[place] for place in order if signs[place] == VERDICT_SIGNS[verdict])
            listed[verdict] = list(islice(alike, min(most, counts[verdict])))
        return Others(counts, listed)

    @cached_property
    def _places(self) -> dict[str, int]:
        return {lick_id: place for place, lick_id in enumerate(self.neighbours.ids)}

    @cached_property
    def _in_order(self) -> list[int]:
        return [self._places[tab.lick.id or ""] for tab in self.tabs]

    @cached_property
    def _by_place(self) -> dict[int, Published]:
        return dict(zip(self._in_order, self.tabs, strict=True))

    @cached_property
    def _pick_role(self) -> dict[str, Callable[[str], Sequence[str]]]:
        """Role -> what picks the signs of its licks out of a row."""
        places = _grouped((tab.lick.role, self._places[tab.lick.id or ""]) for tab in self.tabs)
        return {role: itemgetter(*found) for role, found in places.items()}

    @cached_property
    def _columns(self) -> list[str]:
        return ["".join(column) for column in zip(*self.neighbours.rows, strict=True)]

    @cached_property
    def _meant_after(self) -> dict[str | None, list[str]]:
        """What licks are meant to follow -> their ids."""
        return _grouped((tab.lick.after, tab.lick.id or "") for tab in self.tabs if tab.lick.after)

    @cached_property
    def _ending_on(self) -> dict[str | None, list[str]]:
        """The last chord of licks -> their ids."""
        return _grouped((last_chord(tab), tab.lick.id or "") for tab in self.tabs)


def _counts(signs: Sequence[str]) -> dict[str | None, int]:
    return {verdict: signs.count(sign) for verdict, sign in VERDICT_SIGNS.items()}


def _grouped(pairs: Iterable[tuple[Hashable, object]]) -> dict:
    found: dict = {}
    for key, value in pairs:
        found.setdefault(key, []).append(value)
    return found
