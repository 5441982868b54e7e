"""Where bars begin that are not whole: pick-ups and bars cut by a showing."""

from fractions import Fraction

import pytest
from tests.written import licks_of

EIGHT = "T3 I2 M1 T5 I2 M1 T3 M1"


def shown(body: str, slots: str, header: str = ""):
    return licks_of(f"id: a\n{header}---\n{body}", f"show: a\nslots: {slots}")[1]


@pytest.mark.parametrize("slots, quarters", [("1.1-1.4", 0), ("1.2-1.8", Fraction(1, 2)), ("1.5-1.8", 2)])
def test_a_cut_bar_begins_as_late_as_what_is_left_out_lasts(slots, quarters):
    made = shown(EIGHT, slots)
    assert made.late_start(made.bars[0]) == quarters


@pytest.mark.parametrize("slots, quarters", [("0.1-1.8", 3), ("0.2-1.8", Fraction(7, 2)), ("0.1-0.1", 3)])
def test_a_pick_up_begins_late_whatever_is_shown_of_it(slots, quarters):
    """Two eighths before a bar of 4/4 begin on its fourth beat."""
    made = shown(f"T3 I2 | {EIGHT}", slots, "pickup: 2\n")
    assert made.late_start(made.bars[0]) == quarters


def test_a_bar_is_cut_at_its_beginning_at_its_end_or_not_at_all():
    made = shown(f"{EIGHT} | {EIGHT} | {EIGHT}", "1.3-3.6")
    assert [made.is_cut(bar) for bar in made.bars] == [True, False, True]
    assert [made.ends_early(bar) for bar in made.bars] == [False, False, True]


def test_a_bar_that_a_variant_adds_is_new_and_one_it_moves_is_not():
    _, made = licks_of(f"id: a\n---\n{EIGHT} | {EIGHT}", "id: b\nfrom: a\nchange:\n  - after bar 1: T3 - - - - - - -")
    assert made.parent_bars == (1, None, 2)
    assert [made.is_new(bar) for bar in made.bars] == [False, True, False]
