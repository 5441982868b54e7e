"""Filling time: the chains of library licks that fill a number of bars over one chord.

Every kept bar lies under exactly that chord; exits fall away inside, the last is kept or dropped, whichever fits; no
seam is a clash that nothing repairs. A chain goes at the tempo and bounce of its first link unless told otherwise.
All chains are counted. The best are listed in the order of ``fit_costs`` and ``fit_search``: clean, repaired, tight;
then what comes back least, and licks that are not in the list yet.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

import numpy as np

from ..model.findings import CLEAN, REPAIRED, TIGHT, Fit, Fits
from ..model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND
from ..model.lick import Lick
from .fit_costs import IMPOSSIBLE, MOST_BARS, NOBODY, UNSUITED, count_ways, least_costs, least_from, seam_costs
from .fit_links import FitLink, fit_link, has_chords, last_chord
from .fit_search import Course, Node, cheapest
from .fit_seams import CLEAN_RANK, REPAIRED_RANK, TIGHT_RANK, FitSeams, fit_seams, fit_sides
from .settle import settled

SEAM_WORDS = {CLEAN_RANK: CLEAN, REPAIRED_RANK: REPAIRED, TIGHT_RANK: TIGHT}
SUITS, SILENT, SUITS_ANOTHER = 0, 1, 2
DEFAULT_MOST, MOST_FITS = 5, 64


@dataclass(frozen=True)
class _At:
    """The chains of one tempo and bounce: which links may begin them, and all seams; the lick before stands last."""

    firsts: tuple[int, ...]
    seams: FitSeams
    first_costs: np.ndarray

    def ranks(self, count: int) -> np.ndarray:
        return self.seams.ranks[:count, :count]


def find_fits(licks: Sequence[Lick], bars: int, chord: str, after: Lick | str | None = None, most: int = DEFAULT_MOST,
              tempo: Fraction | None = None, bounce: int | None = None, clash_per_second: float = CLASH_PER_SECOND,
              tight_per_second: float = TIGHT_PER_SECOND) -> Fits:
    """``licks`` have ids; the caller leaves out those that may not be used. ``after`` is the lick before, or a chord.

    Raises ValueError where ``bars`` or ``most`` is below 1 or above 64.
    """
    for name, value, limit in (("bars", bars, MOST_BARS), ("most", most, MOST_FITS)):
        if not 1 <= value <= limit:
            raise ValueError(f"{name} is {value}, not between 1 and {limit}")
    speeds = clash_per_second, tight_per_second
    found = [fit_link(lick, chord) for lick in sorted(licks, key=lambda lick: lick.id)]
    links = [FitLink(settled(link.lick, *speeds), link.body_bars, link.full_bars) for link in found if link]
    without = tuple(sorted(lick.id for lick in licks if not has_chords(lick)))
    if not links:
        return Fits((), 0, without)
    ats = list(_ats(links, settled(after, *speeds) if isinstance(after, Lick) else after, tempo, bounce, speeds))
    count = sum(count_ways(links, at.ranks(len(links)), bars, _possible(at)) for at in ats)
    if not count:
        return Fits((), 0, without, _nearest(links, ats, bars))
    best = [_fit(links, ats[node.course], node) for node in _listed(links, ats, bars, most)]
    return Fits(tuple(best), count, without)


def lengths_that_fit(licks: Sequence[Lick], chord: str, most_bars: int, clash_per_second: float = CLASH_PER_SECOND,
                     tight_per_second: float = TIGHT_PER_SECOND) -> tuple[int, ...]:
    """Numbers of bars up to ``most_bars`` that some chain fills, rising; the same chains as ``find_fits`` counts."""
    speeds = clash_per_second, tight_per_second
    found = [fit_link(lick, chord) for lick in sorted(licks, key=lambda lick: lick.id)]
    links = [FitLink(settled(link.lick, *speeds), link.body_bars, link.full_bars) for link in found if link]
    return tuple(sorted(_lengths(links, _ats(links, None, None, None, speeds), most_bars))) if links else ()


def _ats(links: Sequence[FitLink], after: Lick | str | None, tempo: Fraction | None, bounce: int | None,
         speeds: tuple[float, float]) -> Iterator[_At]:
    licks = [link.lick for link in links]
    followed = [after] if isinstance(after, Lick) else []
    suits = np.array([_suits(lick, after) for lick in licks], np.int64)
    terms = [(lick.bounce if bounce is None else bounce, lick.tempo if tempo is None else tempo) for lick in licks]
    for this_bounce in sorted({bounced for bounced, _ in terms}):
        sides = fit_sides([*licks, *followed], this_bounce)
        for this_tempo in sorted({at for bounced, at in terms if bounced == this_bounce}):
            seams = fit_seams(*sides, this_tempo, *speeds)
            costs = UNSUITED * suits
            if followed:
                costs = np.minimum(costs + seam_costs(seams.ranks[-1, :-1]), IMPOSSIBLE)
            yield _At(tuple(i for i, at in enumerate(terms) if at == (this_bounce, this_tempo)), seams, costs)


def _suits(lick: Lick, after: Lick | str | None) -> int:
    """Whether the lick is meant to come there."""
    if after is None:
        return SUITS
    wanted = {after.id, last_chord(after)} if isinstance(after, Lick) else {after}
    return SUITS if lick.after in wanted and lick.after else SUITS_ANOTHER if lick.after else SILENT


def _possible(at: _At) -> list[int]:
    return [first for first in at.firsts if at.first_costs[first] < IMPOSSIBLE]


def _listed(links: Sequence[FitLink], ats: Sequence[_At], bars: int, most: int) -> Iterator[Node]:
    courses = [Course(at.firsts, at.first_costs, at.ranks(len(links)), least_costs(links, at.ranks(len(links)), bars))
               for at in ats]
    shown, listed = [0] * len(links), set()
    while len(listed) < most:
        node = cheapest(links, courses, bars, shown, listed)
        if node is None:
            return
        yield node
        listed.add((node.path, node.exit_kept))
        for link in node.path:
            shown[link] += 1


def _nearest(links: Sequence[FitLink], ats: Sequence[_At], bars: int) -> tuple[int, ...]:
    """The next shorter and the next longer number of bars that can be filled."""
    longest = max(max(link.body_bars, link.full_bars or 0) for link in links)
    up_to = min(MOST_BARS, bars + longest)
    works = _lengths(links, ats, up_to)
    shorter, longer = [length for length in works if length < bars], [length for length in works if length > bars]
    return tuple([max(shorter)] if shorter else []) + tuple([min(longer)] if longer else [])


def _lengths(links: Sequence[FitLink], ats: Iterable[_At], up_to: int) -> set[int]:
    """In a big library the chains of one tempo fill all there is to fill, and no seam of the others is looked at."""
    works: set[int] = set()
    most = _sums(links, up_to)
    for at in ats:
        least, possible = least_costs(links, at.ranks(len(links)), up_to), _possible(at)
        works |= {length for length in most
                  if (least_from(links, least, np.array(NOBODY), length)[possible] < IMPOSSIBLE).any()}
        if works == most:
            break
    return works


def _sums(links: Sequence[FitLink], up_to: int) -> set[int]:
    """What the links' bars add up to, whatever their seams."""
    bodies = {link.body_bars for link in links}
    ends = bodies | {link.full_bars for link in links if link.full_bars}
    sums: set[int] = set()
    for length in range(1, up_to + 1):
        if length in ends or any(length - body in sums for body in bodies):
            sums.add(length)
    return sums


def _fit(links: Sequence[FitLink], at: _At, node: Node) -> Fit:
    ids = tuple(links[index].lick.id for index in node.path)
    pairs = list(pairwise(node.path))
    before = repair = None
    if len(at.seams.ends) > len(links):
        before, repair = _seam(at, len(links), node.path[0])
    seams = [_seam(at, *pair) for pair in pairs]
    words, names = tuple(word for word, _ in seams), tuple(name for _, name in seams)
    return Fit(ids, node.exit_kept, words, names, before, repair)


def _seam(at: _At, before_index: int, after_index: int) -> tuple[str, str | None]:
    word = SEAM_WORDS[int(at.seams.ranks[before_index, after_index])]
    return word, at.seams.repair_name(before_index, after_index) if word == REPAIRED else None
