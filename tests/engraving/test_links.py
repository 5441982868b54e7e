"""A chain is told from a lick: its links named where they begin, a pin in each seam whose head is the verdict."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest
from fifthpeg.engraving.draw import draw
from fifthpeg.engraving.shapes import DrawnBar, Label, Sign
from fifthpeg.engraving.signs import sign_shapes
from fifthpeg.model.findings import CLASH, CLEAN, REPAIRED, TIGHT
from fifthpeg.model.lick import Lick, Linked, Showing
from fifthpeg.model.note import written_notes
from fifthpeg.reading.showing import show
from tests.engraving.adorned import drawn
from tests.engraving.chained import HOLD_IT, SLUICE_HELD, SLUICE_TAG, WEIR_RUN, repaired, row, seams
from tests.written import lick

LONG = "Weir run the long way round by the upper sluice and back under the wheel"


def names(bar: DrawnBar) -> list[Label]:
    return [shape for shape in bar.shapes if isinstance(shape, Label) and shape.kind == "link"]


def pins(bar: DrawnBar) -> list[Sign]:
    return [shape for shape in bar.shapes if isinstance(shape, Sign) and shape.kind == "seam"]


def linked(text: str, *links: tuple[str, tuple[int, int]]) -> Lick:
    return replace(lick(text), links=tuple(Linked(title, title, first) for title, first in links))


def test_each_link_is_named_in_the_bar_it_begins_in():
    bars = drawn(row(WEIR_RUN, SLUICE_TAG, WEIR_RUN))
    assert [[label.words for label in names(bar)] for bar in bars] == [
        ["Weir run"], [], ["Sluice tag"], [], ["Weir run"], []]


def test_a_name_stands_above_chords_and_words():
    (bar,) = drawn(linked('[G] "softly" 3 - - - - - - -', ("Eddy", (1, 1))))
    (name,) = names(bar)
    others = [shape for shape in bar.shapes if isinstance(shape, Label) and shape.kind in ("chord", "text", "number")]
    assert len(others) == 3
    assert all(name.box.bottom <= other.box.top for other in others)


def test_a_lick_that_is_no_chain_has_neither_names_nor_pins():
    assert not any(names(bar) or pins(bar) for bar in drawn(WEIR_RUN))


def test_a_pin_stands_in_every_seam_and_none_before_the_first_link():
    bars = drawn(row(WEIR_RUN, SLUICE_TAG, WEIR_RUN))
    assert [len(pins(bar)) for bar in bars] == [0, 0, 1, 0, 1, 0]


def test_a_pick_up_laid_over_the_bar_before_has_its_pin_between_the_notes():
    bar, _ = drawn(linked("T3 I2 M1 - - - T4 I3 | 3 - - - - - - -", ("Eddy", (1, 1)), ("Minnow", (1, 7))))
    (pin,) = pins(bar)
    assert bar.heads[2].halo.right < pin.x < bar.heads[3].halo.left


@pytest.mark.parametrize("verdict", [CLEAN, TIGHT, CLASH])
def test_the_head_of_a_pin_is_the_verdict(verdict):
    chain = row(SLUICE_TAG, WEIR_RUN)
    assert [pin.verdict for pin in pins(drawn(chain, None, seams(chain, [verdict]))[2])] == [verdict]


def test_no_two_verdicts_share_a_shape():
    shapes = [tuple(sign_shapes(verdict, 0, 0)) for verdict in (CLEAN, TIGHT, CLASH, REPAIRED)]
    assert len({frozenset(drawing) for drawing in shapes}) == len(shapes)


def test_a_repaired_seam_says_how():
    chain = row(SLUICE_HELD, SLUICE_TAG)
    (pin,) = pins(drawn(chain, None, repaired(chain))[2])
    assert pin.verdict == REPAIRED
    assert pin.says == f"here Sluice tag begins; the seam is repaired: {HOLD_IT.says}"


def test_a_clash_at_a_seam_is_told_in_words():
    chain = row(SLUICE_TAG, WEIR_RUN)
    marked = draw(chain, written_notes(chain), "", seams(chain, [CLASH])).inline
    (pin,) = [group for group in ElementTree.fromstring(f"<div>{marked}</div>").iter("g")
              if group.get("class") == "fp-seam"]
    assert pin.get("data-verdict") == "clash"
    assert pin.findtext("title") == ("here Weir run begins; clash: middle picks twice in a row here, 6.9 a second; "
                                     "a clash above 195")


def test_a_repaired_seam_that_still_clashes_is_shown_as_a_clash():
    chain = row(SLUICE_TAG, SLUICE_TAG)
    (seam,) = repaired(chain).seams
    found = replace(seams(chain, [CLASH]), seams=(replace(seam, join=seams(chain, [CLASH]).seams[0].join),))
    assert [pin.verdict for pin in pins(drawn(chain, None, found)[2])] == [CLASH]


def test_a_long_name_is_cut_and_told_whole():
    bar, _ = drawn(linked("3 - - - - - - - | 3 - - - - - - -", (LONG, (1, 1))))
    (name,) = names(bar)
    assert name.words.endswith("…")
    assert LONG.startswith(name.words[:-1])
    assert name.says == f"here {LONG} begins"


def test_two_names_in_one_bar_both_find_room():
    bar, _ = drawn(linked("T3 I2 M1 - - - T4 I3 | 3 - - - - - - -", (LONG, (1, 1)), ("Minnow lick", (1, 7))))
    first, second = names(bar)
    assert second.words == "Minnow lick"
    assert first.box.right < second.box.left


@pytest.mark.parametrize("showing, expected", [
    (Showing("c", bars=(2, 3)), [["… Weir run"], ["Sluice tag"]]),
    (Showing("c", bars=(3, 3)), [["Sluice tag"]]),
    (Showing("c", slots=((3, 4), (4, 2))), [["… Sluice tag"], []]),
])
def test_part_of_a_chain_is_labelled_where_it_opens(showing, expected):
    bars = drawn(show(row(WEIR_RUN, SLUICE_TAG), showing))
    assert [[label.words for label in names(bar)] for bar in bars] == expected


def test_a_showing_has_pins_only_where_both_sides_are_drawn():
    chain = row(WEIR_RUN, SLUICE_TAG)
    assert [len(pins(bar)) for bar in drawn(show(chain, Showing("c", bars=(3, 4))))] == [0, 0]
    assert [len(pins(bar)) for bar in drawn(show(chain, Showing("c", bars=(2, 3))))] == [0, 1]
