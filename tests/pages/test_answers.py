"""Answers about the whole library: found out once, read back the same, found out anew when a lick changes."""

from dataclasses import replace
from pathlib import Path

import pytest

from fifthpeg.compiled import Neighbours
from fifthpeg.model.chain import FitRequest
from fifthpeg.model.findings import CLASH, CLEAN, TIGHT, Fit, Fits, Join, Repair
from fifthpeg.pages.answers import Answers
from tests.pages.made import tab

FITS = Fits((Fit(("weir", "race"), True, ("repaired",), ("hold",), "clean"),), 7, ("plain",), (4, 8))
JOIN = Join(CLASH, ("M",), 6.93, 195.0, (Repair("hold", "hold the G"),))
NEIGHBOURS = Neighbours(("weir", "race"), ("02", "-1"), {"weir race": JOIN})
LIBRARY = [replace(tab(f"id: {name}"), entry=Path("shelf") / name) for name in ("weir", "race")]


@pytest.fixture
def answers(tmp_path) -> Answers:
    return Answers(tmp_path, "salt")


def never():
    raise AssertionError("asked a second time")


def test_a_fit_is_found_once_and_read_back_the_same(answers):
    request = FitRequest(6, "G", LIBRARY[0].lick)
    assert answers.fits(request, LIBRARY, lambda: FITS) == FITS
    assert answers.fits(request, LIBRARY, never) == FITS


@pytest.mark.parametrize("other", [
    (FitRequest(8, "G"), LIBRARY), (FitRequest(6, "G", "D7"), LIBRARY), (FitRequest(6, "G"), LIBRARY[:1]),
    (FitRequest(6, "G"), [replace(LIBRARY[0], entry=Path("shelf/weir-corrected")), LIBRARY[1]]),
], ids=["another length", "another chord before", "a lick gone", "a lick corrected"])
def test_another_question_or_library_is_found_out_anew(answers, other):
    answers.fits(FitRequest(6, "G"), LIBRARY, lambda: FITS)
    with pytest.raises(AssertionError, match="second time"):
        answers.fits(*other, never)


def test_what_goes_with_what_is_read_back_the_same(answers):
    assert answers.neighbours(LIBRARY, lambda: NEIGHBOURS) == NEIGHBOURS
    again = answers.neighbours(LIBRARY, never)
    assert again == NEIGHBOURS
    assert [again.verdict(*pair) for pair in (("weir", "weir"), ("weir", "race"), ("race", "weir"), ("race", "race"))] == [
        CLEAN, CLASH, None, TIGHT]
    assert again.join("weir", "race") == JOIN and again.join("weir", "weir") == Join(CLEAN)
    assert again.join("race", "weir") is None


def test_answers_of_this_build_outlive_a_pruning(answers):
    answers.fits(FitRequest(6, "G"), LIBRARY, lambda: FITS)
    answers.prune()
    assert answers.fits(FitRequest(6, "G"), LIBRARY, never) == FITS
