"""Fingers the tool chooses, read by a person as a teacher would read them.

Each case gives a reason where another hand might do otherwise. What is at home where, what is comfortable: common
practice, no source.
"""

from pathlib import Path

import pytest
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.parse import parse
from tests.analysis.fingered import fingers_of

CASES = sorted((Path(__file__).parents[1] / "cases" / "fingers").glob("*.md"))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_a_lick_gets_the_fingers_a_teacher_would_write(case):
    page, _, rest = case.read_text(encoding="utf-8").partition("\n==== gives\n")
    expected, _, reason = rest.partition("\n==== because\n")
    assert reason.strip()
    (block,) = find_fences(page, "page.md").blocks
    read = parse(block)
    assert not read.problems
    assert fingers_of(read.lick) == expected


def test_there_are_cases():
    assert len(CASES) >= 20
