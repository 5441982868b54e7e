"""How figures are told, and what is said of two banks that differ."""

from dataclasses import replace

import pytest

from fifthpeg.model.sound_figures import QUANTITIES, SoundFigures, as_plain, changes, from_plain

ONE = SoundFigures(0.01, 0.25, 0.6, -32.0, -20.0, 2300.0)
CENTS, TEN_DB = QUANTITIES[0], QUANTITIES[1]


@pytest.mark.parametrize("value, said", [(0.014, "0.01"), (-0.001, "0.00"), (-1.5, "−1.50"), (None, "–")])
def test_a_figure_is_told_without_a_needless_sign(value, said):
    assert CENTS.said(value) == said


def test_equal_banks_give_no_change():
    assert changes({"a": ONE}, {"a": replace(ONE, cents=0.0101)}) == []


def test_a_change_is_summed_up_over_the_bank():
    after = {"a": replace(ONE, falls_10_db=0.35), "b": replace(ONE, falls_10_db=0.20), "c": ONE, "new": ONE}
    (change,) = changes(dict.fromkeys("abc", ONE), after)
    assert (change.quantity, change.notes, change.most) == (TEN_DB, 2, "a")
    assert (change.before, change.after, change.mean) == (0.25, 0.35, pytest.approx(0.025))


def test_a_pitch_that_comes_or_goes_is_a_change():
    (change,) = changes({"a": ONE}, {"a": replace(ONE, cents=None)})
    assert (change.notes, change.before, change.after) == (1, 0.01, None)


def test_figures_come_back_from_plain_values():
    assert from_plain(as_plain({"a": ONE, "b": replace(ONE, cents=None)})) == {"a": ONE, "b": replace(ONE, cents=None)}
