"""Left-hand fingers the tool chooses, read by a person as a teacher would read them: common practice, no source."""

import pytest
from fifthpeg.analysis.left_hand import left_hand
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import written_notes
from tests.analysis.read_cases import cases_in, read_case

CASES = cases_in("left")


def held(lick: Lick) -> str:
    """Each fretted note with its finger: ``3:2=2 3:3=3``."""
    notes = written_notes(lick)
    fingers = left_hand(lick, notes).fingers
    return " ".join(f"{note.string}:{note.fret}={fingers[note.mark]}" for note in notes if note.mark in fingers)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_a_lick_gets_the_left_hand_a_teacher_would_write(case):
    lick, expected = read_case(case)
    assert held(lick) == expected


def test_there_are_cases():
    assert len(CASES) >= 8
