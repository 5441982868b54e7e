"""What the shelf keeps of a lick is read back as it was."""

import json
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fifthpeg.compiled import Facts
from fifthpeg.model.cell_words import CellWords
from fifthpeg.model.findings import Join, Repair
from fifthpeg.pages.kept import as_json, from_plain

st.register_type_strategy(float, st.floats(allow_nan=False))


@settings(max_examples=60)
@given(st.from_type(Facts))
def test_all_facts_come_back_exactly(facts):
    """Made from the annotations, so that a new fact is tried as soon as it has one."""
    back = from_plain(Facts, json.loads(as_json(facts)))
    assert back == facts and repr(back) == repr(facts)


def test_a_pick_up_without_room_is_remembered():
    join = Join("clean", repairs=(Repair("hold", "hold the D"),), has_room=False)
    assert from_plain(Join, json.loads(as_json(join))) == join


def test_fractions_stay_exact():
    third = Fraction(1, 3)
    assert from_plain(tuple[Fraction, ...], json.loads(as_json((third,)))) == (third,)


def test_cells_keep_their_order():
    cells = CellWords(1, 1, 2, "beat 1", "thumb, string 3"), CellWords(1, 3, 1, "beat 2", "rest")
    assert from_plain(tuple[CellWords, ...], json.loads(as_json(cells))) == cells


def test_what_is_not_known_how_to_keep_is_refused():
    with pytest.raises(TypeError):
        from_plain(set[int], [1])
