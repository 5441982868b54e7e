"""Licks for tests, written the way a teacher writes them."""

from fifthpeg.model.lick import Lick
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.parse import parse


def lick(text: str) -> Lick:
    """The lick of a tab block's inside; a fault in it fails the test that wrote it."""
    (block,) = find_fences(f"```tab\n{text}\n```\n", "test.md").blocks
    read = parse(block)
    assert not read.problems, read.problems
    return read.lick
