"""The lines above ``---``: ``key: the rest of the line``, read as text."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from .faults import Faults
from .pieces import Piece, list_pieces

_KEY_LINE = re.compile(r"(?P<key>[a-z][a-z-]*)[ ]*:(?:[ ]+(?P<value>.*?))?[ ]*\Z")
_LOOSE_KEY_LINE = re.compile(r"[ ]*[A-Za-z][A-Za-z -]*[ ]*:(?:[ ]|\Z)")
_ITEM = re.compile(r"[ ]*-[ ]+(?P<value>.*?)[ ]*\Z")
_DIVIDER = re.compile(r"-{3}[ ]*\Z")
LINE_HINT = "write a word in small letters, a colon and what you mean, such as `tempo: 208`"
DIVIDER_HINT = "put a line `---` between header and tab"


@dataclass
class Entry:
    """One key: its words, or its list of items. Spans are (row, column, width), from 0."""

    key: str
    key_span: tuple[int, int, int]
    text: str = ""
    span: tuple[int, int, int] = (0, 0, 1)
    items: list[str] = field(default_factory=list)
    item_spans: list[tuple[int, int, int]] = field(default_factory=list)
    is_list: bool = False

    @property
    def pieces(self) -> list[Piece]:
        """What it lists, one thing where it is no list. Raises Slips where a list never closes."""
        if self.is_list:
            return [Piece(*item) for item in zip(self.items, self.item_spans, strict=True)]
        return list_pieces(Piece(self.text, self.span))


@dataclass(frozen=True)
class Parts:
    """The rows of a block's header and body; either may be empty."""

    header_rows: Sequence[int]
    body_rows: Sequence[int]
    divided: bool


def divide(rows: Sequence[str], faults: Faults) -> Parts:
    """Where the header ends and the body begins."""
    start = _first_row(rows, 0)
    if start < len(rows) and _DIVIDER.match(rows[start]):
        start = _first_row(rows, start + 1)
    dividers = [index for index in range(start, len(rows)) if _DIVIDER.match(rows[index])]
    for extra in dividers[1:]:
        faults.add((extra, 0, 3), "bad-header", "a second line `---`", "one line `---` is enough: take this one out")
    if dividers:
        body = [row for row in range(dividers[0] + 1, len(rows)) if row not in dividers]
        return Parts(range(start, dividers[0]), body, True)
    if start < len(rows) and _KEY_LINE.match(rows[start]):
        return Parts(range(start, len(rows)), (), False)
    return Parts((), range(start, len(rows)), False)


def looks_like_header(row: str) -> bool:
    return bool(_LOOSE_KEY_LINE.match(row))


def read_header(rows: Sequence[str], parts: Parts, faults: Faults,
                stray_hint: str = DIVIDER_HINT) -> dict[str, Entry]:
    """The entries by key, in the order written. ``stray_hint`` is for a line that belongs to no header, where no
    ``---`` says where the header ends."""
    entries: dict[str, Entry] = {}
    open_list: Entry | None = None
    for row_index in parts.header_rows:
        row = rows[row_index].rstrip()
        if not row or row.lstrip().startswith("#"):
            continue
        item = _ITEM.match(row)
        if item and open_list is not None:
            open_list.items.append(item["value"])
            open_list.item_spans.append((row_index, item.start("value"), max(1, len(item["value"]))))
            open_list.is_list = True
            continue
        entry = _read_line(row, row_index, LINE_HINT if parts.divided else stray_hint, faults)
        open_list = entry if entry and not entry.text else None
        if entry and entry.key in entries:
            first_line = faults.place(entries[entry.key].key_span).line
            faults.add(entry.key_span, "bad-header", f"`{entry.key}` stands here a second time",
                       f"keep one of the two; the first is on line {first_line}")
        elif entry:
            entries[entry.key] = entry
    return entries


def _read_line(row: str, row_index: int, stray_hint: str, faults: Faults) -> Entry | None:
    match = _KEY_LINE.match(row)
    if match is None:
        column = len(row) - len(row.lstrip())
        faults.add((row_index, column, len(row) - column), "bad-header",
                   "this line of the header doesn't begin with a word and a colon", stray_hint)
        return None
    text = match["value"] or ""
    start = match.start("value") if match["value"] else len(row)
    entry = Entry(match["key"], (row_index, match.start("key"), len(match["key"])), text,
                  (row_index, start, max(1, len(text))))
    if text.startswith("[") and text.endswith("]"):
        pieces = list_pieces(Piece(text, entry.span))
        entry.items = [piece.text for piece in pieces]
        entry.item_spans = [piece.span for piece in pieces]
        entry.is_list = True
    return entry


def _first_row(rows: Sequence[str], start: int) -> int:
    for index in range(start, len(rows)):
        if rows[index].strip() and not rows[index].lstrip().startswith("#"):
            return index
    return len(rows)
