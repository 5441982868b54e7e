"""Blocks as they are played, worked out by hand from the tab language, not from the code.

A row is: string, fret, MIDI note, start, length, end of ringing (quarters), which playing of its bar it is.
"""

from pathlib import Path

import pytest
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.parse import parse
from fifthpeg.sound.perform import perform

CASES = sorted((Path(__file__).parents[1] / "cases" / "played").glob("*.md"))
UNFINGERED = {}


def row(note) -> str:
    return f"{note.string} {note.fret} {note.midi} {note.start} {note.length} {note.rings_until} {note.passage}"


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_a_block_is_played_as_worked_by_hand(case):
    page, _, expected = case.read_text().partition("\n==== gives\n")
    (block,) = find_fences(page, "page.md").blocks
    read = parse(block)
    assert not read.problems
    assert [row(note) for note in perform(read.lick, UNFINGERED).notes] == expected.strip().split("\n")


def test_there_are_played_cases():
    assert len(CASES) >= 10
