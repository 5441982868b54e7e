"""Blocks and the notes they mean, worked out by hand from the tab language, not from the code.

A row is: string, fret, MIDI note, start, written length, end of ringing (quarters), finger, touch.
"""

from pathlib import Path

import pytest
from fifthpeg.model.note import written_notes
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.parse import parse

CASES = sorted((Path(__file__).parents[1] / "cases" / "notes").glob("*.md"))


def row(note) -> str:
    return (f"{note.string} {note.fret} {note.midi} {note.start} {note.length} {note.rings_until} "
            f"{note.finger or '-'} {note.touch}")


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_a_block_means_the_notes_worked_by_hand(case):
    page, _, expected = case.read_text().partition("\n==== gives\n")
    (block,) = find_fences(page, "page.md").blocks
    read = parse(block)
    assert not read.problems
    assert [row(note) for note in written_notes(read.lick)] == expected.strip().split("\n")


def test_there_are_cases():
    assert len(CASES) >= 15
