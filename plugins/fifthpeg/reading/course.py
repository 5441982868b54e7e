"""All pages of a course, read together."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from ..model.lick import Lick
from ..model.problem import Problem
from .fences import UNCLOSED, Block
from .library import Library, no_chains, read_library
from .linking import LinkUp
from .lost_fences import Scanned
from .messages import message
from .parse import Defaults, Read, parse


@dataclass(frozen=True)
class Course:
    """``pages`` by name, as scanned; ``problems`` of all of them, in page order, each once."""

    pages: Mapping[str, Scanned]
    library: Library
    problems: tuple[Problem, ...]

    @property
    def licks(self) -> list[Lick]:
        """The library in order of id."""
        return [self.library.licks[lick_id] for lick_id in sorted(self.library.licks)]

    def problems_of(self, block: Block) -> tuple[Problem, ...]:
        """What is wrong from the block's opening line to its closing one."""
        last_line = block.line + len(block.raw) + 1
        return tuple(problem for problem in self.problems
                     if problem.place.page == block.page and block.line <= problem.place.line <= last_line)

    def pages_showing(self) -> dict[str, list[str]]:
        """Lick id -> the pages that define or show it, in page order, each once."""
        shown: dict[str, list[str]] = {}
        for block, lick in self.library.by_block.items():
            pages = shown.setdefault(lick.id or lick.shows or "", [])
            if block.page not in pages:
                pages.append(block.page)
        return shown

    def blocks_by_source(self) -> dict[tuple[str, str], list[Block]]:
        """By page and text, which is all that whoever renders a page will know of them; equal ones in page order."""
        blocks: dict[tuple[str, str], list[Block]] = {}
        for page, scanned in self.pages.items():
            for block in scanned.blocks:
                blocks.setdefault((page, block.source), []).append(block)
        return blocks

    def messages(self) -> dict[tuple[str, int], list[str]]:
        """What is said in place of each block, by page and line, or above it where it can be drawn all the same."""
        messages = {block.spot: [message(problem) for problem in self.problems_of(block)]
                    for scanned in self.pages.values() for block in scanned.blocks}
        unclosed = {(problem.place.page, problem.place.line): [message(problem)]
                    for problem in self.problems if problem.kind == UNCLOSED}
        return messages | unclosed


def read_course(pages: Mapping[str, Scanned], defaults: Defaults, read: Callable[[Block, Defaults], Read] = parse,
                link_up: LinkUp = no_chains) -> Course:
    """``pages`` in the order of the site; ``read`` may be a memoised ``parse``; ``link_up`` puts chains together."""
    blocks = [block for scanned in pages.values() for block in scanned.blocks]
    library = read_library(blocks, defaults, read, link_up)
    lost = {problem for scanned in pages.values() for problem in scanned.problems}
    return Course(pages, library, tuple(sorted(lost | set(library.problems))))
