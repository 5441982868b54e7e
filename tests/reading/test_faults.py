"""Each case is a page as a teacher may write it, and every message it must give, to the column."""

from pathlib import Path

import pytest
from fifthpeg.analysis.chain import link_up
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.library import read_library
from fifthpeg.reading.messages import message

CASES = sorted((Path(__file__).parents[1] / "cases" / "faults").glob("*.md"))
DIVIDER = "\n==== gives\n"
DESIGNED_KINDS = {
    "bar-length", "no-such-string", "off-the-neck", "no-such-token", "slide-goes-nowhere", "pull-off-goes-up",
    "hammer-on-goes-down", "nothing-to-hold", "same-string-twice", "same-finger-twice", "bad-group", "bad-repeat",
    "bad-pickup", "bad-chime", "bad-choke", "bad-chord", "unknown-key", "bad-value", "unknown-lick", "id-taken",
    "unclosed", "unknown-block", "bad-header", "change-does-nothing", "circle", "mixed-chain",
    "seam-clash", "repair-not-needed", "repair-does-not-help",
}


def problems_of(page: str):
    found = find_fences(page, "page.md")
    return sorted(found.problems + read_library(found.blocks, link_up=link_up).problems)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_a_fault_is_told_where_it_stands_and_what_to_do(case, accept):
    text = case.read_bytes().decode()
    page, _, expected = text.partition(DIVIDER)
    said = "\n".join(message(problem) for problem in problems_of(page)) + "\n"
    if accept:
        case.write_bytes((page + DIVIDER + said).encode())
    assert said.strip(), "a case must give a message"
    assert said == (said if accept else expected)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_windows_line_ends_move_no_place(case):
    page = case.read_bytes().decode().partition(DIVIDER)[0]
    plain = [(problem.place, problem.kind) for problem in problems_of(page)]
    assert [(problem.place, problem.kind) for problem in problems_of(page.replace("\n", "\r\n"))] == plain


def test_every_kind_of_fault_has_a_case():
    kinds = {problem.kind for case in CASES for problem in problems_of(case.read_text().partition(DIVIDER)[0])}
    assert kinds == DESIGNED_KINDS


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_a_place_lies_on_the_line_it_names(case):
    page = case.read_text().partition(DIVIDER)[0]
    lines = page.split("\n")
    for problem in problems_of(page):
        line = lines[problem.place.line - 1]
        assert problem.quote == line
        assert 1 <= problem.place.column <= len(line) + 1
