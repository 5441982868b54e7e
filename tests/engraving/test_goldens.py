"""Whole sheets, held byte for byte. ``pytest --accept`` writes them anew; look at them before you commit."""

from pathlib import Path

import pytest
from fifthpeg.engraving.draw import draw
from fifthpeg.model.findings import CLASH, CLEAN, TIGHT, Findings, RepeatedFinger
from tests.engraving.adorned import suggested
from tests.engraving.chained import SLUICE_HELD, SLUICE_TAG, WEIR_RUN, repaired, row, seams
from tests.written import lick

CASES = Path(__file__).parent / "cases"
BLOCKS = {
    "weir-run": """id: weir-run
title: Weir run
role: lick
key: G
tempo: 208
---
[D7] M1:4=4 I2:3 T3:2 M1 T4 I3:2 M1 T4 | I3:2=1 T4:4=3 - I3 T4:4 I3:2 T3:5=4 -""",
    "sluice-tag": """id: sluice-tag
title: Sluice tag
role: tag
tempo: 208
exit: 1
after: D7
---
[G] I2+M1 - T3:2=2h3=3 I2 M1 T5 I2:3p0 M1 | T3:2p0 M1 T5 I3 M1 T4:0h2=2 I3 M1 | T3 - T5+M1 - T4 - T5+M1 -""",
}
TWO = row(WEIR_RUN, SLUICE_TAG)
THREE = row(SLUICE_TAG, WEIR_RUN, SLUICE_TAG)
HELD = row(SLUICE_HELD, SLUICE_TAG)
CLASHING = lick("title: Two thumbs\ntempo: 208\n---\n[G] T3 I2 M1 T5 T4 I2 M1 M1")
FOUND = {
    "weir-then-sluice": (TWO, seams(TWO, [CLEAN])),
    "sluice-weir-sluice": (THREE, seams(THREE, [CLASH, TIGHT])),
    "sluice-repaired-sluice": (HELD, repaired(HELD)),
    "two-thumbs": (CLASHING, Findings({}, repeats=(RepeatedFinger(("T",), 1, 5, 6.93, CLASH, 195.0),
                                                   RepeatedFinger(("M",), 1, 8, 6.93, CLASH, 195.0)))),
}


@pytest.mark.parametrize("name", BLOCKS)
def test_a_sheet_is_drawn_as_accepted(name, accept):
    read = lick(BLOCKS[name])
    _check(name, draw(read, suggested(read)).standalone, accept)


@pytest.mark.parametrize("name", FOUND)
def test_a_sheet_with_findings_is_drawn_as_accepted(name, accept):
    read, findings = FOUND[name]
    _check(name, draw(read, suggested(read), "", findings).standalone, accept)


def _check(name: str, sheet: str, accept: bool) -> None:
    case = CASES / f"{name}.svg"
    if accept:
        case.write_text(sheet, encoding="utf-8")
    assert case.is_file(), f"no golden {case.name}: draw it with --accept, and look at it"
    assert sheet == case.read_text(encoding="utf-8")


def test_every_golden_has_its_block():
    assert {case.stem for case in CASES.glob("*.svg")} == {*BLOCKS, *FOUND}
