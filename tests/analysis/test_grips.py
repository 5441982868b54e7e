"""Ways to take one strike. Which finger is at home where: common practice, no source."""

from fifthpeg.analysis.grips import discomfort, grips


def ways(*strings: int, written=None) -> set[str]:
    return {"".join(grip.fingers) for grip in grips(strings, written or (None,) * len(strings))}


def test_the_short_string_has_one_way():
    assert ways(5) == {"T"}


def test_the_first_string_is_no_thumb_s():
    assert ways(1) == {"I", "M"}


def test_each_finger_takes_one_string_of_a_pinch():
    assert ways(5, 1) == {"TI", "TM"}


def test_a_written_finger_is_kept_and_used_once():
    assert ways(3, 1, written=("M", None)) == {"MI"}


def test_a_written_finger_may_go_where_none_would_be_sent():
    assert ways(1, written=("T",)) == {"T"}


def test_of_two_ways_with_the_same_fingers_the_easier_is_kept():
    assert ways(3, 2) == {"TI", "TM", "IM"}


def test_a_written_brush_stays_a_brush():
    assert ways(4, 3, 2, written=("I", "I", "I")) == {"III"}


def test_home_strings_cost_nothing():
    homes = ((5, "T"), (4, "T"), (3, "T"), (2, "I"), (1, "M"))
    assert [discomfort((string,), (finger,)) for string, finger in homes] == [0] * 5


def test_away_from_home_costs_something():
    assert all(discomfort((string,), (finger,)) > 0 for string, finger in ((2, "T"), (4, "I"), (1, "I"), (2, "M")))


def test_thumb_and_middle_is_the_cheapest_pinch():
    assert discomfort((5, 1), ("T", "M")) < discomfort((5, 1), ("T", "I"))
    assert discomfort((3, 2), ("T", "M")) < discomfort((3, 2), ("T", "I"))


def test_the_two_first_strings_together_stay_with_the_fingers_at_home_there():
    """Common practice, no source: index and middle, while the thumb keeps to the lower strings."""
    assert discomfort((2, 1), ("I", "M")) < discomfort((2, 1), ("T", "M"))


def test_fingers_that_cross_cost_more_than_any_that_do_not():
    uncrossed = (("T", "I"), ("T", "M"), ("I", "M"))
    assert discomfort((3, 2), ("M", "I")) > max(discomfort((3, 2), pair) for pair in uncrossed)
