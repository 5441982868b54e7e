"""Finding the fenced blocks of a page, with the line and column each character stands at.

The search is done by the very preprocessor that later renders the fences, so that lists,
admonitions, content tabs and blockquotes mean the same in both passes. It is given the page
with its front matter blanked, which keeps line numbers true.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from markdown import Markdown
from pymdownx.superfences import SuperFencesBlockPreprocessor

from ..model.problem import Place, Problem

TAB_WIDTH = 4
BLOCK_NAMES = ("tab", "chain", "fit")
BAD_OPENING, UNCLOSED, MISNAMED = "bad-header", "unclosed", "unknown-block"
"""Kinds of what can be wrong with a fence."""
_FRONT_MATTER = re.compile(r"\A\ufeff?-{3}[ \t]*\r?\n.*?\n(?:\.{3}|-{3})[ \t]*(?:\r?\n|\Z)", re.DOTALL)
_OPENING = re.compile(r"[> \t]*(?P<fence>`{3,}|~{3,})[ \t]*\{?[ \t]*\.?(?P<name>[a-z]+)(?P<rest>(?:[^\w\n`].*)?)\Z")
_LINE_END = re.compile(r"\r\n|\n|\r")


@dataclass(frozen=True)
class Block:
    """One fence. ``source`` is its content as the renderer will receive it, dedented.

    ``line`` is the line of the opening fence, ``indent`` the columns (tabs expanded) that were
    taken off, ``raw`` the content's lines as they stand on the page.
    """

    name: str
    page: str
    line: int
    indent: int
    source: str
    raw: tuple[str, ...]

    @property
    def spot(self) -> tuple[str, int]:
        """What tells a block from all others: its page and the line it opens on."""
        return self.page, self.line

    def place(self, row_index: int, column_index: int, width: int = 1) -> Place:
        """Where a stretch of ``source`` stands on the page; rows and columns count from 0."""
        raw = self.raw[row_index] if row_index < len(self.raw) else ""
        start = raw_column(raw, self.indent + column_index)
        end = raw_column(raw, self.indent + column_index + width)
        return Place(self.page, self.line + 1 + row_index, start + 1, max(1, end - start))

    def quote(self, row_index: int) -> str:
        return self.raw[row_index] if row_index < len(self.raw) else ""


@dataclass(frozen=True)
class Found:
    blocks: tuple[Block, ...]
    problems: tuple[Problem, ...]


def find_fences(text: str, page: str) -> Found:
    """All tab, chain and fit blocks of a page file (front matter included), and fences that would be lost, or shown as
    plain text because of their names."""
    small = text.lower()
    if not any(fence in text for fence in ("```", "~~~")) or not any(name in small for name in BLOCK_NAMES):
        return Found((), ())
    raw_lines = _LINE_END.split(_blank_front_matter(text))
    fences = _finder().find(raw_lines)
    blocks = tuple(
        Block(fence.name, page, fence.start + 1, fence.indent, fence.source,
              tuple(raw_lines[fence.start + 1:fence.end - 1]))
        for fence in fences if fence.name in BLOCK_NAMES
    )
    return Found(blocks, (*_lost_fences(raw_lines, fences, page), *_misnamed_fences(raw_lines, fences, page)))


def front_matter(text: str) -> list[str]:
    """The lines of a page's front matter with those that open and close it; empty where it has none."""
    match = _FRONT_MATTER.match(text)
    return split_lines(match[0].removeprefix("\ufeff").rstrip("\r\n")) if match else []


def split_lines(text: str) -> list[str]:
    return _LINE_END.split(text)


def line_ends(text: str) -> list[str]:
    """What ends each line but the last."""
    return _LINE_END.findall(text)


def raw_column(raw: str, expanded_column: int) -> int:
    """The index in ``raw`` of a column counted with tabs expanded."""
    if "\t" not in raw:
        return expanded_column
    column = 0
    for index, character in enumerate(raw):
        if column >= expanded_column:
            return index
        column += TAB_WIDTH - column % TAB_WIDTH if character == "\t" else 1
    return len(raw) + max(0, expanded_column - column)


@dataclass(frozen=True)
class _Fence:
    name: str
    start: int
    end: int
    indent: int
    source: str


class _Finder(SuperFencesBlockPreprocessor):
    """The renderer's own search, noting fences instead of replacing them."""

    def __init__(self) -> None:
        fences = [{"name": name, "class": name, "format": _nothing, "validator": _welcome} for name in BLOCK_NAMES]
        markdown = Markdown(extensions=["pymdownx.superfences"], tab_length=TAB_WIDTH,
                            extension_configs={"pymdownx.superfences": {"custom_fences": fences}})
        renderer = next(p for p in markdown.preprocessors if isinstance(p, SuperFencesBlockPreprocessor))
        super().__init__(markdown)
        self.extension, self.config = renderer.extension, renderer.config
        self.fences: list[_Fence] = []

    def find(self, raw_lines: Sequence[str]) -> list[_Fence]:
        self.fences = []
        self.run([line.expandtabs(TAB_WIDTH) for line in raw_lines])
        return self.fences

    def process_nested_block(self, ws: str, content: str, start: int, end: int) -> None:
        source = self.rebuild_block(self.code)
        self.fences.append(_Fence(self.lang or "", start, end, self.ws_virtual_len, source))
        self.clear()


@cache
def _finder() -> _Finder:
    return _Finder()


def _nothing(*_arguments, **_options) -> str:
    return ""


def _welcome(*_arguments, **_options) -> bool:
    return True


def _blank_front_matter(text: str) -> str:
    match = _FRONT_MATTER.match(text)
    if not match:
        return text.removeprefix("\ufeff")
    line_ends = "".join(_LINE_END.findall(match[0]))
    return line_ends + text[match.end():]


def _lost_fences(raw_lines: Sequence[str], fences: Sequence[_Fence], page: str) -> Iterator[Problem]:
    """Openings that the renderer passes over: never closed, or with words it can't take."""
    inside = {line for fence in fences for line in range(fence.start, fence.end)}
    for line_index, raw in enumerate(raw_lines):
        match = _OPENING.match(raw)
        if match is None or line_index in inside or match["name"] not in BLOCK_NAMES:
            continue
        column = match.start("fence")
        place = Place(page, line_index + 1, column + 1, len(raw.rstrip()) - column)
        if match["rest"].strip():
            yield Problem(place, BAD_OPENING,
                          f"`{match['rest'].strip()}` after the word `{match['name']}` can't be read",
                          raw,
                          f"leave the opening line as {match['fence']}{match['name']} and write such things inside, "
                               "as lines like `title: Weir run` above a line `---`")
        else:
            yield Problem(place, UNCLOSED, f"this {match['name']} block is never closed", raw,
                          f"end it with a line {match['fence']}, no further in or out than this one")


def _misnamed_fences(raw_lines: Sequence[str], fences: Sequence[_Fence], page: str) -> Iterator[Problem]:
    """A capital or an s in the name: the renderer takes it for some programming language's."""
    for fence in fences:
        meant = fence.name.lower().removesuffix("s")
        if fence.name in BLOCK_NAMES or meant not in BLOCK_NAMES:
            continue
        raw = raw_lines[fence.start]
        yield Problem(Place(page, fence.start + 1, raw.index(fence.name) + 1, len(fence.name)), MISNAMED,
                      f"a block called `{fence.name}` is shown as plain text", raw, f"do you mean `{meant}`?")
