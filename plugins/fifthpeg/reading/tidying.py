"""Lining up the slots of a block's lines in columns, and nothing else.

Words, chords, signs, comments and their order stay; only the spaces between them change.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from .cells import Word, join_words
from .faults import Faults
from .fences import Block, find_fences, line_ends, raw_column, split_lines
from .header import divide
from .parse import parse
from .tokens import BARLINE, CLOSE, LINE_END, OPEN, REPEAT_CLOSE, REPEAT_OPEN, Token, cut

BARS_END = (BARLINE, REPEAT_OPEN, REPEAT_CLOSE)


def tidy_page(text: str, page: str) -> str:
    """The page with every faultless tab body lined up; blocks with faults stay as they are."""
    lines, ends = split_lines(text), line_ends(text)
    for block in find_fences(text, page).blocks:
        if block.name == "tab" and not parse(block).problems:
            for row_index, row in enumerate(tidy_rows(block)):
                lines[block.line + row_index] = _relined(block, row_index, row)
    return "".join(line + end for line, end in zip_longest(lines, ends, fillvalue=""))


def tidy_rows(block: Block) -> list[str]:
    """The rows of a block's source, its body lined up."""
    rows = block.source.split("\n")
    parts = divide(rows, Faults(block))
    lines = {index: line for index in parts.body_rows if (line := _line(rows[index], index, block)) is not None}
    widths = _widths(list(lines.values()))
    return [_written(lines[index], widths) if index in lines else row for index, row in enumerate(rows)]


@dataclass(frozen=True)
class _Slot:
    """One slot's word or group, and the chords, texts and endings in front of it."""

    before: str
    word: str
    span: int = 1


@dataclass(frozen=True)
class _Line:
    """Bars of slots with the signs between them: ``signs[i]`` stands before bar i, the last behind all."""

    bars: tuple[tuple[_Slot, ...], ...]
    signs: tuple[str, ...]
    carries_on: bool


def _line(row: str, row_index: int, block: Block) -> _Line | None:
    """None for comments and empty lines, which stay as they are."""
    if not row.strip() or row.lstrip().startswith("#"):
        return None
    items = list(join_words(cut(block.source.split("\n"), [row_index], Faults(block))))
    bars, signs, slots, waiting, group_start = [], [""], [], "", None
    for item in items:
        text = row[item.span[1]:item.span[1] + item.span[2]]
        if isinstance(item, Token) and item.kind == LINE_END:
            continue
        if isinstance(item, Token) and item.kind in BARS_END and group_start is None:
            if slots:
                bars.append(tuple(slots))
                signs.append("")
                slots = []
            signs[-1] = f"{signs[-1]} {text}".strip()
        elif isinstance(item, Token) and item.kind == OPEN:
            group_start = item.span[1]
        elif isinstance(item, Token) and item.kind == CLOSE:
            slots.append(_Slot(waiting, row[group_start:item.span[1] + item.span[2]], int(item.value)))
            waiting, group_start = "", None
        elif group_start is None and isinstance(item, Word):
            slots.append(_Slot(waiting, text))
            waiting = ""
        elif group_start is None:
            waiting = f"{waiting} {text}".strip()
    if slots:
        bars.append(tuple(slots))
        signs.append("")
    return _Line(tuple(bars), tuple(signs), row.rstrip().endswith("\\"))


@dataclass(frozen=True)
class _Widths:
    """Widest chord and word of each (bar, slot), widest sign before each bar, and each bar's whole width."""

    before: dict[tuple[int, int], int]
    words: dict[tuple[int, int], int]
    signs: dict[int, int]
    slots: dict[int, int]

    def bar(self, bar_index: int) -> int:
        first = self.before.get((bar_index, 0), 0)
        return self.under(bar_index, 0, self.slots[bar_index]) + (first + 1 if first else 0)

    def under(self, bar_index: int, slot_index: int, span: int) -> int:
        """From the first word of a slot to the end of the last word of ``span`` slots."""
        keys = [(bar_index, slot_index + step) for step in range(span)]
        widths = [self.words.get(key, 0) for key in keys] + [self.before.get(key, 0) for key in keys[1:]]
        return sum(widths) + max(0, sum(1 for width in widths if width) - 1)


def _widths(lines: Sequence[_Line]) -> _Widths:
    widths = _Widths({}, {}, {}, {})
    for line in lines:
        for bar_index, bar in enumerate(line.bars):
            widths.signs[bar_index] = max(widths.signs.get(bar_index, 0), len(line.signs[bar_index]))
            widths.slots[bar_index] = max(widths.slots.get(bar_index, 0), sum(slot.span for slot in bar))
            for slot_index, slot in _placed(bar):
                key = bar_index, slot_index
                widths.before[key] = max(widths.before.get(key, 0), len(slot.before))
                if slot.span == 1:
                    widths.words[key] = max(widths.words.get(key, 0), len(slot.word))
    for line in lines:
        for bar_index, bar in enumerate(line.bars):
            for slot_index, slot in _placed(bar):
                last = bar_index, slot_index + slot.span - 1
                short = len(slot.word) - widths.under(bar_index, slot_index, slot.span)
                widths.words[last] = widths.words.get(last, 0) + max(0, short)
    return widths


def _placed(bar: Sequence[_Slot]) -> Iterator[tuple[int, _Slot]]:
    slot_index = 0
    for slot in bar:
        yield slot_index, slot
        slot_index += slot.span


def _written(line: _Line, widths: _Widths) -> str:
    parts: list[str] = []
    for bar_index, bar in enumerate(line.bars):
        if widths.signs[bar_index]:
            parts.append(line.signs[bar_index].ljust(widths.signs[bar_index]))
        parts.append(_bar(bar, bar_index, widths).ljust(widths.bar(bar_index)))
    parts += [line.signs[-1]] if line.signs[-1] else []
    parts += ["\\"] if line.carries_on else []
    return " ".join(parts).rstrip()


def _bar(bar: Sequence[_Slot], bar_index: int, widths: _Widths) -> str:
    words: list[str] = []
    for slot_index, slot in _placed(bar):
        before = widths.before.get((bar_index, slot_index), 0)
        words += [slot.before.ljust(before)] if before else []
        words.append(slot.word.ljust(widths.under(bar_index, slot_index, slot.span)))
    return " ".join(words)


def _relined(block: Block, row_index: int, row: str) -> str:
    """The page's line with the block's indentation and the row's new words."""
    raw = block.raw[row_index]
    if row == block.source.split("\n")[row_index]:
        return raw
    return raw[:raw_column(raw, block.indent)] + row
