"""What goes with what, through the pipeline's door, against the seams one by one."""

from itertools import product

import pytest

from fifthpeg.analysis.repairs import repairs_for
from fifthpeg.analysis.seams import seam
from fifthpeg.compiled import Options
from fifthpeg.model.findings import CLEAN
from fifthpeg.model.note import written_notes
from fifthpeg.companions import in_context, repaired_ending
from fifthpeg.model.chain import differences
from fifthpeg.pipeline import neighbours
from tests.written import lick as written

SLUICE = "id: sluice\nexit: 1\nafter: D7\ntempo: 208\n---\n[G] I2+M1 - T3 I2 M1 T5 I2 M1 | T3 - T5+M1 - T4 - T5+M1 -"
WEIR = "id: weir\ntempo: 208\n---\n[D7] M1:4 I2:3 T3:2 M1 T4 I3:2 M1 T4 | I3:2 T4:4 - I3 T4:4 I3:2 T3:5 -"
WALTZ = "id: waltz\nmeter: 3/4\n---\n[G] T3 - I2 - M1 -"
LICKS = [written(block) for block in (SLUICE, WEIR, WALTZ)]


def test_verdicts_and_joins_are_those_of_each_pair():
    found = neighbours(LICKS, Options())
    for before, after in product(LICKS, LICKS):
        if differences(before, after):
            assert found.verdict(before.id, after.id) is None and found.join(before.id, after.id) is None
            continue
        alone = seam(before, after)
        assert found.verdict(before.id, after.id) == alone.verdict
        assert found.join(before.id, after.id).fingers == alone.fingers
        assert found.join(before.id, after.id).repairs == tuple(o.repair for o in repairs_for(before, after))
    assert found.verdict("sluice", "sluice") != CLEAN and found.verdict("weir", "sluice") == CLEAN


def test_a_lick_is_heard_after_the_lick_or_the_chord_it_follows():
    after_weir = in_context(LICKS[0], LICKS[1], Options())
    assert [bar.number for bar in after_weir.bars] == [1, 2, 3, 4] and after_weir.links[1].first == (3, 1)
    after_chord = in_context(LICKS[0], None, Options())
    assert after_chord.bars[0].chords == ((0, "D7"),) and after_chord.links[1].first == (2, 1)
    assert after_chord.tempo == 208
    assert in_context(LICKS[0], LICKS[2], Options()) is None


def test_the_repaired_ending_is_the_bar_that_the_smallest_repair_changes():
    part = repaired_ending(LICKS[0], Options())
    assert [bar.number for bar in part.bars] == [1] and part.title.startswith("Hold")
    assert len(written_notes(part)) == len(written_notes(LICKS[0])) - 1 - 6
    assert repaired_ending(LICKS[1], Options()) is None
