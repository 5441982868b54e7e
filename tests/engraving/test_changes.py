"""What a variant changed is marked by a shape of its own, one line for neighbours, holds and rests too."""

from itertools import combinations

import pytest
from fifthpeg.engraving.draw import draw
from fifthpeg.engraving.shapes import Block, Disc, DrawnBar
from hypothesis import given, settings
from tests.engraving.adorned import adorned, drawn, suggested
from tests.written import licks_of

PARENT = "id: a\n---\nT3 I2 M1 T5 I2 M1 T3 M1 | T3:2 I2 M1 T5 I2 M1 T3 M1"


def varied(*changes: str):
    return licks_of(PARENT, "id: b\nfrom: a\nchange:\n" + "\n".join(f"  - {change}" for change in changes))[1]


def lines(bar: DrawnBar) -> list[Block]:
    return [shape for shape in bar.shapes if isinstance(shape, Block) and shape.kind == "change"]


def pegs(bar: DrawnBar) -> list[Disc]:
    return [shape for shape in bar.shapes if isinstance(shape, Disc) and shape.kind == "change"]


@pytest.mark.parametrize("words", ["I2:1", "(1 2)"])
def test_a_changed_slot_has_a_line_with_a_peg_under_its_numbers(words):
    first, second = drawn(varied(f"bar 1 slot 3: {words}"))
    (line,), (peg,) = lines(first), pegs(first)
    assert peg.x - peg.radius < first.heads[2].label.x < line.box.right
    assert lines(second) == pegs(second) == []


@pytest.mark.parametrize("words", ["-", "."])
def test_a_slot_that_became_a_hold_or_a_rest_is_marked_between_its_neighbours(words):
    first, _ = drawn(varied(f"bar 1 slot 3: {words}"))
    (line,), (peg,) = lines(first), pegs(first)
    before, after = first.heads[1].label, first.heads[2].label
    assert before.x < peg.x < line.box.right < after.x


def test_neighbouring_changes_share_a_line():
    first, _ = drawn(varied("bar 1 slot 3: 1:2", "bar 1 slot 4: -", "bar 1 slot 7: 3:2"))
    long, short = lines(first)
    assert long.box.left < first.heads[2].label.x and short.box.left > first.heads[4].label.x
    assert len(pegs(first)) == 2


def test_the_parent_itself_has_no_marks_and_needs_no_room_for_them():
    parent, variant = licks_of(PARENT, "id: b\nfrom: a\nchange:\n  - 3:2 -> 3:3")
    assert not any(lines(bar) for bar in drawn(parent))
    assert drawn(parent)[0].height < drawn(variant)[0].height


def test_changed_notes_and_their_mark_say_so_in_words():
    made = varied("3:2 -> 3:3")
    inline = draw(made, suggested(made)).inline
    assert "<title>string 3, fret 3, thumb, changed</title>" in inline
    assert inline.count('class="fp-change"') == inline.count("<title>changed</title>") == 1


def test_a_file_of_a_variant_says_what_it_varies():
    made = varied("3:2 -> 3:3")
    assert "variant of a, changes underlined.</desc>" in draw(made, suggested(made)).standalone


@settings(max_examples=80, deadline=None)
@given(adorned())
def test_marks_keep_apart_and_inside_their_bar(made):
    for bar in drawn(made):
        spans = [(peg.x - peg.radius, line.box.right) for peg, line in zip(pegs(bar), lines(bar), strict=True)]
        assert all(0 <= left < right <= bar.width for left, right in spans)
        for one, other in combinations(spans, 2):
            assert one[1] < other[0] or other[1] < one[0]
