"""Tempos in beats a minute where the full tempo is another lick's: 80, 120 and 160 of 160 are a half, three quarters, all."""

from fractions import Fraction

import pytest

from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.library import read_library
from tests.written import licks_of

PARENT = "id: run\ntempo: 160\n---\nT3 I2 M1 T5 I2 M1 T3 M1"
HALF_TO_ALL = (Fraction(1, 2), Fraction(3, 4), Fraction(1))


@pytest.mark.parametrize("block", [
    "from: run\ntempos: [80, 120, 160]", "show: run\ntempos: [80, 120, 160]",
    "from: run\ntempos: [50 %, 75 %, 100 %]", "show: run\ntempos: [50 %, 75 %, 100 %]",
    "show: run\ntempo: 100\ntempos: [50, 75, 100]", "from: run\ntempo: 100\ntempos: [50, 75, 100]",
])
def test_the_recordings_are_shares_of_the_tempo_in_force(block):
    if block.startswith("from"):
        block += "\nchange: [3 -> 3:2]"
    assert licks_of(PARENT, block)[1].tempos == HALF_TO_ALL


def test_a_corrected_tempo_of_the_parent_moves_the_shares():
    assert licks_of(PARENT.replace("160", "200"), "show: run\ntempos: [80, 120, 160]")[1].tempos == (
        Fraction(2, 5), Fraction(3, 5), Fraction(4, 5))


@pytest.mark.parametrize("key", ["show", "from"])
def test_a_mixture_that_cannot_be_compared_is_a_fault_with_its_place(key):
    page = f"```tab\n{PARENT}\n```\n\n```tab\n{key}: run\ntempos: [50 %, 120, 160]\n```\n"
    (problem,) = read_library(find_fences(page, "page.md").blocks).problems
    assert (problem.kind, problem.place.line, problem.place.column) == ("bad-value", 10, 9)
