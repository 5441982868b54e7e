"""All blocks of a course together: ids, and the showings that need them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ..model.chord import chord_pitch_classes
from ..model.lick import Lick, Showing
from ..model.problem import Place, Problem
from .fences import Block
from .messages import nearest
from .parse import Defaults, Read, parse
from .showing import show


@dataclass(frozen=True)
class Library:
    """``licks`` by id; ``by_block`` gives what each block draws; ``problems`` in page order.

    A block without an entry in ``by_block`` has problems; they name its page and lines.
    """

    licks: dict[str, Lick]
    by_block: dict[Block, Lick]
    problems: tuple[Problem, ...]


def read_library(blocks: Iterable[Block], defaults: Defaults = Defaults(), read=parse) -> Library:
    """``read`` may be a memoised ``parse``."""
    blocks = tuple(blocks)
    reads = {block: read(block, defaults) for block in blocks}
    problems = [problem for result in reads.values() for problem in result.problems]
    licks, taken = _by_id(reads, problems)
    by_block = {block: result.lick for block, result in reads.items() if result.lick and block not in taken}
    for block, result in reads.items():
        if result.showing:
            shown = _shown(block, result.showing, licks, problems)
            if shown:
                by_block[block] = shown
    problems += _unknown_after(by_block, licks)
    return Library(licks, by_block, tuple(sorted(set(problems))))


def _by_id(reads: Mapping[Block, Read], problems: list[Problem]) -> tuple[dict[str, Lick], set[Block]]:
    licks: dict[str, Lick] = {}
    taken: set[Block] = set()
    for block, result in reads.items():
        lick = result.lick
        if lick is None or lick.id is None:
            continue
        if lick.id in licks:
            taken.add(block)
            problems.append(_taken(block, lick, licks[lick.id].place))
        else:
            licks[lick.id] = lick
    return licks, taken


def _taken(block: Block, lick: Lick, first: Place) -> Problem:
    place, quote = _entry_place(block, "id")
    return Problem(place, "id-taken", f"the id `{lick.id}` is taken already, on {first.page} in the block from line {first.line}",
                   quote, "give one of the two another id; to show a lick again write `show: " + lick.id + "`", (first,))


def _shown(block: Block, showing: Showing, licks: Mapping[str, Lick], problems: list[Problem]) -> Lick | None:
    lick = licks.get(showing.shows)
    if lick is None:
        place, quote = _entry_place(block, "show")
        problems.append(Problem(place, "unknown-lick", f"no lick in this course has the id `{showing.shows}`", quote,
                                _nearest_id(showing.shows, licks)))
        return None
    last = lick.bars[-1].number
    if showing.bars and not lick.bars[0].number <= showing.bars[0] <= showing.bars[1] <= last:
        place, quote = _entry_place(block, "bars")
        problems.append(Problem(place, "bad-value", f"`{lick.id}` has no bars {showing.bars[0]}-{showing.bars[1]}", quote,
                                f"its bars are {lick.bars[0].number} to {last}"))
        return None
    return show(lick, showing)


def _nearest_id(wanted: str, licks: Mapping[str, Lick]) -> str:
    like = nearest(wanted, tuple(licks))
    return f"do you mean `{like}`?" if like else "give the lick an `id:` where it is written, and use the same here"


def _unknown_after(by_block: Mapping[Block, Lick], licks: Mapping[str, Lick]) -> list[Problem]:
    problems = []
    for block, lick in by_block.items():
        if lick.after and not lick.shows and not _is_chord(lick.after) and lick.after not in licks:
            place, quote = _entry_place(block, "after")
            problems.append(Problem(place, "unknown-lick", f"`after` names neither a chord nor a lick of this course: `{lick.after}`",
                                    quote, _nearest_id(lick.after, licks)))
    return problems


def _is_chord(name: str) -> bool:
    try:
        chord_pitch_classes(name)
    except ValueError:
        return False
    return True


def _entry_place(block: Block, key: str) -> tuple[Place, str]:
    """Where a key's words stand in its block."""
    for row_index, row in enumerate(block.source.split("\n")):
        name, colon, rest = row.partition(":")
        if colon and name.strip() == key:
            column = len(row) - len(rest.lstrip()) if rest.strip() else 0
            return block.place(row_index, column, max(1, len(rest.strip()))), block.quote(row_index)
    return block.place(0, 0), block.quote(0)
