"""A page scanned: its blocks, the faults of its front matter, and no fence lost.

The text is mended where the renderer would lose a fence and swallow what follows it.

Only opening lines are touched, so all lines keep their numbers: words behind the block's name
are taken off; a fence that is never closed gives way to a mark where its message will stand.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ..model.problem import Problem
from .fences import BAD_OPENING, UNCLOSED, Block, find_fences
from .lesson import lesson_problems

_NAMED_FENCE = re.compile(r"(?P<lead>.*?(?:`{3,}|~{3,}))[ \t]*\{?[ \t]*\.?(?P<name>[a-z]+)")
_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+\Z")


@dataclass(frozen=True)
class Scanned:
    """``text`` is the page as it should be rendered; ``problems`` quote it as it was written."""

    text: str
    blocks: tuple[Block, ...]
    problems: tuple[Problem, ...]


def scan_page(text: str, page: str, mark: Callable[[str, int], str]) -> Scanned:
    """The blocks of a page, none lost. ``mark(page, line)`` stands in for a block that is never closed."""
    problems = list(lesson_problems(text, page))
    found = find_fences(text, page)
    while openings := [problem for problem in found.problems if problem.kind == BAD_OPENING]:
        problems += openings
        text = _replace_lines(text, openings, _without_extras)
        found = find_fences(text, page)
    unclosed = [problem for problem in found.problems if problem.kind == UNCLOSED]
    marked = _replace_lines(text, unclosed, lambda line, problem: (
        line[:problem.place.column - 1] + mark(page, problem.place.line)))
    return Scanned(marked, found.blocks, tuple(sorted((*problems, *found.problems))))


def _without_extras(line: str, _: Problem) -> str:
    match = _NAMED_FENCE.match(line)
    return match["lead"] + match["name"] if match else line


def _replace_lines(text: str, problems: Sequence[Problem], replace: Callable[[str, Problem], str]) -> str:
    if not problems:
        return text
    lines = _LINE.findall(text)
    for problem in problems:
        index = problem.place.line - 1
        written = lines[index].rstrip("\r\n")
        lines[index] = replace(written, problem) + lines[index][len(written):]
    return "".join(lines)
