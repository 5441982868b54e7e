"""Repeats and endings unfolded by hand, as (bar number, pass)."""

from fifthpeg.model.play_order import unfold
from tests.written import lick

BAR = "T3 - - - - - - -"


def order(text: str) -> str:
    made = lick(text.replace("B", BAR))
    return " ".join(f"{made.bars[index].number}.{passage}" for index, passage in unfold(made))


def test_without_repeats_bars_follow_each_other():
    assert order("B | B | B") == "1.1 2.1 3.1"


def test_a_repeat_without_a_beginning_goes_back_to_bar_one():
    assert order("B | B :| B") == "1.1 2.1 1.2 2.2 3.1"


def test_a_repeat_goes_back_to_its_beginning():
    assert order("B |: B | B :| B") == "1.1 2.1 3.1 2.2 3.2 4.1"


def test_a_repeat_says_how_many_times_in_all():
    assert order("B |: B :|x3 B") == "1.1 2.1 2.2 2.3 3.1"


def test_a_pick_up_is_not_repeated():
    assert order("pickup: 1\n---\nM1 | B :|") == "0.1 1.1 1.2"


def test_the_last_time_takes_the_second_ending():
    assert order("|: B | <1> B :| <2> B | B") == "1.1 2.1 1.2 3.1 4.1"


def test_three_times_with_endings_takes_the_first_ending_twice():
    assert order("|: B | <1> B :|x3 <2> B") == "1.1 2.1 1.2 2.2 1.3 3.1"


def test_two_repeats_in_a_row():
    assert order("|: B :| |: B :|") == "1.1 1.2 2.1 2.2"
