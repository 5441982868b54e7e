"""Licks for tests, written the way a teacher writes them."""

from fifthpeg.model.lick import Lick
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.library import read_library
from fifthpeg.reading.parse import parse


def lick(text: str) -> Lick:
    """The lick of a tab block's inside; a fault in it fails the test that wrote it."""
    (block,) = find_fences(f"```tab\n{text}\n```\n", "test.md").blocks
    read = parse(block)
    assert not read.problems, read.problems
    return read.lick


def licks_of(*texts: str) -> list[Lick]:
    """The licks of tab blocks on one page, in order; variants and showings find theirs among them."""
    page = "\n".join(f"```tab\n{text}\n```\n" for text in texts)
    blocks = find_fences(page, "test.md").blocks
    library = read_library(blocks)
    assert len(library.by_block) == len(texts), library.problems
    return list(library.by_block.values())
