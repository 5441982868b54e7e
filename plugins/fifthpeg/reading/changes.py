"""The changes of a variant, one a line, each applied to the bars left by those before it."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..model.lick import Lick
from ..model.problem import Place
from ..model.tab import Arrival, Bar, Cell, Group, Landing, Pluck, Strike
from .body import read_body
from .faults import Faults
from .fences import Block
from .plucks import Span
from .writing import BarWriter

_ARROWS = re.compile(r"=>|[–—-]?>|→")
_NOTE = r"(?P<{0}string>[1-5])(?::(?:(?P<{0}fret>\d{{1,2}})|(?P<{0}damped>x)))?"
_SWAP = re.compile(_NOTE.format("old_") + r"[ ]*->[ ]*" + _NOTE.format("new_") + r"\Z")
_BAR = re.compile(r"(?i:(?P<after>after )?bar)[ ]+(?P<bar>\d{1,3})(?:[ ]+(?i:slot)[ ]+(?P<slot>\d{1,3}))?"
                  r"[ ]*:[ ]*(?P<words>.*)\Z")
GONE = "gone"
SLIPS = (
    (re.compile(r"(?i)bars[ ]+\d"), "change one bar a line: `bar 1: …`, then `bar 2: …`"),
    (re.compile(r"(?i)before bar"),
     "a new bar goes after another, `after bar 1: …`; one before the first goes into `bar 1: …`"),
    (re.compile(r"(?i)(after )?bar[ ]+\d+([ ]+slot[ ]+\d+)?[ ]+[^: ]"), "put a colon after the number: `bar 2: …`"),
    (re.compile(r"[TIM][1-5].*->"), "a swap names no fingers, they stay: `3:2 -> 3:3`"),
)
GONE_OTHERWISE = re.compile(r"(?i)(removed?|deleted?|out|cut|none|away)\Z")
HOW = ("write `1:2 -> 1:3`, `bar 2: T3 - …`, `bar 1 slot 3: I3+M1`, `after bar 2: …` or `bar 3: gone`, "
       "with the parent's bar numbers")


@dataclass(frozen=True)
class Stand:
    """A bar as it stands now; ``number`` is the parent's, None for a new one."""

    number: int | None
    bar: Bar


@dataclass(frozen=True)
class Change:
    text: str
    span: Span


def apply_changes(stands: tuple[Stand, ...], changes: Sequence[Change], frame: Lick, block: Block,
                  faults: Faults) -> tuple[Stand, ...]:
    """All changes in order; a change with a fault leaves the bars as they were."""
    for change in changes:
        stands = _apply(stands, change, frame, block, faults)
    return stands


def reread(stands: Sequence[Stand], rows: Sequence[str], frame: Lick, faults: Faults) -> tuple[Stand, ...]:
    """The bars read again from their words; numbers stay with their bars."""
    bars = read_body(rows, range(len(rows)), frame, faults)
    if len(bars) != len(stands):
        return tuple(stands)
    return tuple(Stand(stand.number, bar) for stand, bar in zip(stands, bars, strict=True))


def _apply(stands: tuple[Stand, ...], change: Change, frame: Lick, block: Block, faults: Faults) -> tuple[Stand, ...]:
    swap, bar = _SWAP.match(_ARROWS.sub("->", change.text)), _BAR.match(change.text)
    if swap:
        swapped = tuple(replace(stand, bar=_swap_bar(stand.bar, swap)) for stand in stands)
        return _checked(stands, swapped, {}, change, frame, block, faults)
    if bar is None:
        faults.add(change.span, "bad-value", f"`{change.text}` is no change that can be read",
                   next((hint for slip, hint in SLIPS if slip.match(_ARROWS.sub("->", change.text))), HOW))
        return stands
    index = next((i for i, stand in enumerate(stands) if stand.number == int(bar["bar"])), None)
    if index is None:
        numbers = [stand.number for stand in stands if stand.number is not None]
        faults.add(change.span, "change-does-nothing", f"the parent has no bar {bar['bar']} to change here",
                   f"the bars left are {numbers[0]} to {numbers[-1]}, counted as the parent is drawn")
        return stands
    return _change_bar(stands, index, bar, change, frame, block, faults)


def _change_bar(stands: tuple[Stand, ...], index: int, said: re.Match, change: Change, frame: Lick, block: Block,
                faults: Faults) -> tuple[Stand, ...]:
    words, stand = said["words"], stands[index]
    if said["slot"]:
        return _change_slot(stands, index, said, change, frame, block, faults)
    if said["after"]:
        while index + 1 < len(stands) and stands[index + 1].number is None:
            index += 1
        added = (*stands[:index + 1], Stand(None, Bar(0, ())), *stands[index + 1:])
        return _checked(stands, added, {index + 1: words}, change, frame, block, faults)
    if GONE_OTHERWISE.match(words.strip()):
        faults.add(change.span, "bad-value", f"`{words.strip()}` can't be read as a bar",
                   f"to leave the bar out write `bar {said['bar']}: {GONE}`")
        return stands
    if words.strip() == GONE:
        return _checked(stands, stands[:index] + stands[index + 1:], {}, change, frame, block, faults)
    signs = _with_signs(words, stand.bar)
    changed = _checked(stands, stands, {index: signs}, change, frame, block, faults)
    if changed is stands:
        return stands
    kept = _keep_words(changed[index].bar, stand.bar)
    return (*changed[:index], replace(stand, bar=kept), *changed[index + 1:])


def _change_slot(stands: tuple[Stand, ...], index: int, said: re.Match, change: Change, frame: Lick, block: Block,
                 faults: Faults) -> tuple[Stand, ...]:
    bar, slot_index = stands[index].bar, int(said["slot"]) - 1
    if slot_index not in dict(bar.placed_cells()):
        says = (f"slot {said['slot']} of bar {said['bar']} lies inside a group of the parent"
                if 0 <= slot_index < bar.slot_count
                else f"bar {said['bar']} of the parent has no slot {said['slot']} to change")
        faults.add(change.span, "change-does-nothing", says,
                   f"its slots are 1 to {bar.slot_count}; a group goes by its first")
        return stands
    if '"' in said["words"]:
        bar = replace(bar, texts=tuple(entry for entry in bar.texts if entry[0] != slot_index))
    if "[" in said["words"]:
        bar = replace(bar, chords=tuple(entry for entry in bar.chords if entry[0] != slot_index))
    row = BarWriter().bar(bar, {slot_index: said["words"]})
    return _checked(stands, stands, {index: row}, change, frame, block, faults)


def _checked(before: tuple[Stand, ...], after: tuple[Stand, ...], words: dict[int, str], change: Change, frame: Lick,
             block: Block, faults: Faults) -> tuple[Stand, ...]:
    """The bars after a change, read again as a whole; the same object as ``before`` after a fault."""
    writer = BarWriter()
    rows = [words[index] if index in words else writer.bar(stand.bar) for index, stand in enumerate(after)]
    trial = Faults(Rewritten(block, change, words))
    result = reread(after, rows, frame, trial)
    more_than_notes = any(sign in text for text in words.values() for sign in '["|<')
    if not trial.problems and not more_than_notes and [s.bar.cells for s in result] == [s.bar.cells for s in before]:
        trial.add((0, 0, 1), "change-does-nothing", f"`{change.text}` changes no note of the parent",
                  "take it out, or write it as the parent is written now")
    faults.problems += trial.problems
    return before if trial.problems else result


class Rewritten:
    """Stands in for a block whose rows are a variant's bars: every fault is placed in the change that made it."""

    def __init__(self, block: Block, change: Change, words: dict[int, str]):
        self.block, self.change, self.words = block, change, words

    def place(self, row_index: int, column_index: int, width: int = 1) -> Place:
        row, column, length = self.change.span
        text = self.words.get(row_index, "")
        piece = text[column_index:column_index + width]
        at = self.change.text.find(piece, self.change.text.find(":") + 1) if piece.strip() else -1
        return self.block.place(row, column + at, width) if at >= 0 else self.block.place(row, column, length)

    def quote(self, _row_index: int) -> str:
        return self.block.quote(self.change.span[0])


def _with_signs(words: str, bar: Bar) -> str:
    """New words for a bar keep its repeat signs and ending unless they bring their own."""
    if "|:" in words or ":|" in words or "<" in words:
        return words
    lead = ("|: " if bar.opens_repeat else "") + (f"<{bar.ending}> " if bar.ending else "")
    tail = "" if not bar.repeat_times else f" :|x{bar.repeat_times}"
    return lead + words + tail


def _keep_words(new: Bar, old: Bar) -> Bar:
    """Chords and texts of the old bar stay where the new one brings none."""
    room = new.slot_count
    return replace(new, chords=new.chords or tuple(entry for entry in old.chords if entry[0] < room),
                   texts=new.texts or tuple(entry for entry in old.texts if entry[0] < room))


def _swap_bar(bar: Bar, said: re.Match) -> Bar:
    return replace(bar, cells=tuple(_swap_cell(cell, said) for cell in bar.cells))


def _swap_cell(cell: Cell, said: re.Match) -> Cell:
    if isinstance(cell, Group):
        return replace(cell, cells=tuple(_swap_cell(inner, said) for inner in cell.cells))
    if not isinstance(cell, Strike):
        return cell
    return replace(cell, plucks=tuple(_swap_pluck(pluck, said) for pluck in cell.plucks),
                   landings=tuple(_swap_fret(landing, landing.string, said) for landing in cell.landings))


def _swap_pluck(pluck: Pluck, said: re.Match) -> Pluck:
    old_string, new_string = int(said["old_string"]), int(said["new_string"])
    if pluck.string != old_string:
        return pluck
    arrivals = tuple(_swap_fret(arrival, pluck.string, said) for arrival in pluck.arrivals)
    if pluck.damped != bool(said["old_damped"]) or (not pluck.damped and pluck.fret != int(said["old_fret"] or 0)):
        return replace(pluck, arrivals=arrivals)
    return replace(pluck, string=new_string, fret=int(said["new_fret"] or 0), damped=bool(said["new_damped"]),
                   arrivals=arrivals)


def _swap_fret(reached: Arrival | Landing, string_number: int, said: re.Match):
    same = string_number == int(said["old_string"]) and reached.fret == int(said["old_fret"] or 0)
    if not same or said["new_damped"] or said["old_damped"] or said["old_string"] != said["new_string"]:
        return reached
    return replace(reached, fret=int(said["new_fret"] or 0))
