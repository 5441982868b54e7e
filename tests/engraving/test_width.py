"""Bars fit a phone, and systems fit a sheet.

288 px is a 320 px screen (WCAG 2.2, 1.4.10) less margins of 16 px on either side; 11 px is the least
size at which the numbers are still to be read, our own choice.
"""

import pytest
from fifthpeg.engraving.proportions import FRET_SIZE
from fifthpeg.engraving.sheet import SHEET_WIDTH, break_into_systems
from hypothesis import given
from hypothesis import strategies as st
from tests.engraving.adorned import drawn
from tests.written import lick

PHONE_PX = 288
LEAST_FRET_PX = 11


@pytest.mark.parametrize("text", [
    "[G] T3 I2 M1 T5 I2 M1 T3 M1", "[D7] M1:4=4 I2:3 T3:2 M1 T4 I3:2 M1 T4",
    "[G] I2+M1 - T3:2=2h3=3 I2 M1 T5 I2:3p0 M1", "T3:10 I2:11 M1:12 T5:10 I2:11 M1:12 T3:10 M1:12",
])
def test_a_bar_of_eighths_fits_a_phone_at_full_size(text):
    assert drawn(lick(text))[0].width <= PHONE_PX


@pytest.mark.parametrize("text", [
    "grid: 16\n---\n" + "T3 I2 M1 T5 " * 4, "grid: 16\n---\n" + "3:12 2:10 1:12 5:12 " * 4, "3:2s4 2:1h3=2 " * 4,
])
def test_a_crowded_bar_shrunk_to_a_phone_can_still_be_read(text):
    width = drawn(lick(text))[0].width
    assert FRET_SIZE * min(1, PHONE_PX / width) >= LEAST_FRET_PX


@given(st.lists(st.floats(40, 330), min_size=1, max_size=40))
def test_systems_fit_the_sheet_and_keep_the_bars_in_order(widths):
    systems = break_into_systems(widths)
    assert [index for system in systems for index in system] == list(range(len(widths)))
    assert all(sum(widths[i] for i in system) <= SHEET_WIDTH for system in systems)


def test_four_bars_that_need_two_systems_are_two_and_two():
    assert break_into_systems([240, 220, 220, 220]) == [range(0, 2), range(2, 4)]
