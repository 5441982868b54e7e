"""By what a figure says of its lick, the player finds the tab to change over to."""

from dataclasses import replace

from fifthpeg.model.lick import Lick
from fifthpeg.pages.figure import _kin
from tests.browser.stage import tab_of

LICK: Lick = tab_of("id: lock-gate\n---\nT3 I2 M1 T5 I2 M1 T3 M1").lick


def test_a_figure_names_its_lick_and_the_one_it_varies():
    assert _kin(LICK) == ' data-fp-lick="lock-gate"'
    assert _kin(replace(LICK, varies="sluice")) == ' data-fp-lick="lock-gate" data-fp-varies="sluice"'
    assert _kin(replace(LICK, id=None, shows="sluice")) == ' data-fp-lick="sluice"'


def test_a_part_of_a_lick_takes_over_from_nothing():
    assert _kin(replace(LICK, varies="sluice", shown_bars=(2,))) == ""
