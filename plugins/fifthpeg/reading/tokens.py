"""Cutting a body into words and signs, each with the place it stands at."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from .faults import Faults

TWINS = str.maketrans({"“": '"', "”": '"', "„": '"', "–": "-", "—": "-", "−": "-", "‑": "-", "\u00a0": " ",
                       "\u202f": " ", "＋": "+", "♯": "#", "│": "|"})
"""Typographic twins and the signs they are taken for; one character for one, so that columns stay true."""

WORD, BARLINE, CHORD, TEXT, OPEN, CLOSE, REPEAT_OPEN, REPEAT_CLOSE, ENDING, LINE_END = (
    "word", "barline", "chord", "text", "open", "close", "repeat-open", "repeat-close", "ending", "line-end")

_SIGNS = re.compile(
    r"(?P<space>[ ]+)"
    r"|(?P<repeat_open>\|:(?=[ ]|\Z))"
    r"|(?P<repeat_close>:\|(?P<times>x\d+)?(?=[ ]|\Z))"
    r"|(?P<barline>\|+)"
    r"|(?P<chord>\[(?P<chord_name>[^\]]*)\])"
    r"|\"(?P<text>[^\"]*)\""
    r"|(?P<ending><(?P<ending_number>\d+)>)"
    r"|(?P<open>\()"
    r"|(?P<close>\)(?:/(?P<slots>\d+))?(?P<accent>!)?)"
    r"|(?P<carry>\\[ ]*\Z)"
    r"|(?P<word>[^\s|\[\]()\"\\]+)"
)


@dataclass(frozen=True)
class Token:
    """``value`` is what the sign holds: a chord's name, a count, the word itself."""

    kind: str
    value: str
    row: int
    column: int
    width: int
    accent: bool = False

    @property
    def span(self) -> tuple[int, int, int]:
        return self.row, self.column, self.width


def cut(rows: Sequence[str], row_indices: Sequence[int], faults: Faults) -> Iterator[Token]:
    """Tokens of the body rows; comments fall away, each line ends with a LINE_END unless carried on."""
    for row_index in row_indices:
        row = rows[row_index].translate(TWINS)
        if not row.lstrip().startswith("#"):
            yield from _cut_row(row, row_index, faults)


def _cut_row(row: str, row_index: int, faults: Faults) -> Iterator[Token]:
    position, carried = 0, False
    while position < len(row):
        match = _SIGNS.match(row, position)
        if match is None:
            position = _report_stray(row, row_index, position, faults)
            continue
        glued = match["open"] and position and row[position - 1] not in " |"
        if glued:
            faults.add((row_index, position - 1, 2), "bad-group", "a group begins after a space",
                       "put a space before the `(`")
        token = _token(match, row_index)
        carried = carried or match["carry"] is not None
        if token:
            yield token
        position = match.end()
    if not carried:
        yield Token(LINE_END, "", row_index, len(row), 1)


def _token(match: re.Match, row_index: int) -> Token | None:
    where = (row_index, match.start(), match.end() - match.start())
    if match["word"] is not None:
        return Token(WORD, match["word"], *where)
    if match["barline"] is not None:
        return Token(BARLINE, "|", *where)
    if match["chord"] is not None:
        return Token(CHORD, match["chord_name"].strip(), *where)
    if match["text"] is not None:
        return Token(TEXT, match["text"], *where)
    if match["open"] is not None:
        return Token(OPEN, "(", *where)
    if match["close"] is not None:
        return Token(CLOSE, match["slots"] or "1", *where, accent=match["accent"] is not None)
    if match["repeat_open"] is not None:
        return Token(REPEAT_OPEN, "", *where)
    if match["repeat_close"] is not None:
        return Token(REPEAT_CLOSE, (match["times"] or "x2")[1:], *where)
    if match["ending"] is not None:
        return Token(ENDING, match["ending_number"], *where)
    return None


def _report_stray(row: str, row_index: int, position: int, faults: Faults) -> int:
    """A sign that opens something never closed on its line; the rest of the line is passed over."""
    sign = row[position]
    names = {"[": ("chord", "]"), '"': ("text", '"')}
    if sign in names:
        name, closing = names[sign]
        faults.add((row_index, position, len(row.rstrip()) - position), "unclosed", f"this {name} is never closed",
                   f"end it with `{closing}` on the same line")
        return len(row)
    hint = "a `\\` may stand only at the end of a line" if sign == "\\" else "take it out"
    faults.add((row_index, position, 1), "no-such-token", f"a lone `{sign}` means nothing here", hint)
    return position + 1
