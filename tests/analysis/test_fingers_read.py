"""Fingers the tool chooses, read by a person as a teacher would read them.

Each case gives a reason where another hand might do otherwise. What is at home where, what is comfortable: common
practice, no source.
"""

import pytest
from tests.analysis.fingered import fingers_of
from tests.analysis.read_cases import cases_in, read_case

CASES = cases_in("fingers")


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_a_lick_gets_the_fingers_a_teacher_would_write(case):
    lick, expected = read_case(case)
    assert fingers_of(lick) == expected


def test_there_are_cases():
    assert len(CASES) >= 20
