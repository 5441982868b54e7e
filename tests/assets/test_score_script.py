"""Beats, clicks and the counted bar, worked by hand."""

from fractions import Fraction

import pytest

from fifthpeg.exports.player_data import pair
from tests.browser.stage import tab_of

FULL_BAR = "M1 I2 T3 M1 T4 I3 M1 T4"
WITH_PICKUP = f"pickup: 2\n---\nI2 M1 | {FULL_BAR}"
"""A beat's pick-up: bar 1 begins on quarter 1."""
RATE_HZ = 1000


def counted(scripts, source: str, start: Fraction) -> list[tuple[Fraction, bool]]:
    """(when, is it a bar's first) of the beats counted before a place, in quarters: 60 a minute, 1000 frames."""
    beats = scripts.evaluate(
        "([data, from]) => fifthpeg.score.countIn({...data, rate: 1000}, from)([60, 1])", [tab_of(source).data, pair(start)])
    return [(Fraction(beat["start"], RATE_HZ), beat["first"]) for beat in beats]


def clicked(scripts, source: str) -> list[tuple[Fraction, bool]]:
    events = scripts.evaluate("data => fifthpeg.score({...data, rate: 1000})([60, 1])", tab_of(source).data)
    return [(Fraction(event["start"], RATE_HZ), event["first"]) for event in events if event["part"] == "click"]


def test_one_bar_is_counted_before_the_first(scripts):
    assert counted(scripts, FULL_BAR, Fraction(0)) == [(-4, True), (-3, False), (-2, False), (-1, False)]


def test_before_a_pick_up_a_bar_is_counted_and_the_beats_up_to_it(scripts):
    """One two three four, one two three: and the pick-up comes on four."""
    assert counted(scripts, WITH_PICKUP, Fraction(0)) == [
        (-7, True), (-6, False), (-5, False), (-4, False), (-3, True), (-2, False), (-1, False)]


def test_into_the_middle_of_a_bar_the_count_goes_on_to_the_place(scripts):
    """Beat 2 and a half: the bar, one, two, and the note comes on the and."""
    assert [at for at, _ in counted(scripts, FULL_BAR, Fraction(3, 2))] == [-4, -3, -2, -1, 0, 1]


@pytest.mark.parametrize(("meter", "bar", "beats"), [
    ("3/4", "M1 I2 T3 M1 T4 I3", [-3, -2, -1]),
    ("6/8", "M1 I2 T3 M1 T4 I3", [-3, Fraction(-3, 2)]),
    ("2/2", FULL_BAR, [-4, -2]),
])
def test_the_count_is_in_the_meters_own_beat(scripts, meter, bar, beats):
    assert [at for at, _ in counted(scripts, f"meter: {meter}\n---\n{bar}", Fraction(0))] == beats


def test_the_click_falls_on_every_beat_and_is_accented_on_beat_one(scripts):
    assert clicked(scripts, f"{FULL_BAR} | {FULL_BAR}") == [(at, at in (0, 4)) for at in range(8)]


def test_a_pick_ups_click_is_not_a_bars_first(scripts):
    assert clicked(scripts, WITH_PICKUP) == [(at, at == 1) for at in range(5)]


def test_an_event_has_the_same_index_at_every_tempo(scripts):
    parts = scripts.evaluate(
        "data => { const score = fifthpeg.score(data);"
        " return [[60, 1], [208, 1], [1000, 7]].map(qpm => score(qpm).map(e => e.part + (e.voice ? e.voice.sound : ''))) }",
        tab_of(WITH_PICKUP).data)
    assert parts[0] == parts[1] == parts[2]


def test_a_tick_begins_and_ends_at_nothing_and_the_first_is_louder(scripts):
    first, other = scripts.evaluate("[true, false].map(first => [...fifthpeg.click(first, 22050)])")
    for tick in (first, other):
        assert tick[0] == tick[-1] == 0
    assert max(map(abs, first)) > 1.3 * max(map(abs, other))
    assert max(map(abs, first)) <= scripts.evaluate("fifthpeg.click.PEAK")
