"""Ticks and beats: what the recordings have is what the player has, the two written down apart."""

from fractions import Fraction

import numpy as np
import pytest

from fifthpeg.exports.player_data import pair
from fifthpeg.model.beats import CLICK, COUNT, TickStem, clicked_beats, counted_beats
from fifthpeg.settings import RATES_HZ
from fifthpeg.sound.click import LENGTH_MS, count_frames, tick
from fifthpeg.sound.frames import frame_of, frames_in
from fifthpeg.sound.render import RATE_HZ
from tests.browser.stage import tab_of

LINE = "M1 I2 T3 M1 T4 I3 M1 T4"
TABS = {
    "two bars": f"{LINE} | {LINE}",
    "a beat's pick-up": f"pickup: 2\n---\nI2 M1 | {LINE}",
    "a bounced eighth's pick-up": f"pickup: 1\nbounce: 62\n---\nM1 | {LINE}",
    "a pick-up of three eighths, repeated": "pickup: 3\n---\nT4 I2 M1 | |: M1 I2 T3 M1 T4 :|",
    "6/8": "meter: 6/8\n---\nM1 I2 T3 M1 T4 I3 | M1 I2 T3 M1 T4 I3",
    "6/8 from a pick-up": "meter: 6/8\npickup: 1\n---\nM1 | M1 I2 T3 M1 T4 I3",
    "a bounced 3/8": "meter: 3/8\nbounce: 60\n---\nM1 I2 T3 | M1 I2 T3",
    "2/2 in sixteenths": f"meter: 2/2\ngrid: 16\n---\n{LINE} {LINE}",
    "a waltz": "meter: 3/4\nbounce: 58\n---\nM1 I2 T3 M1 T4 I3",
    "two endings": "meter: 2/4\n---\n|:     T3 I2 T5 M1\n   <1> T4 I3 M1 - :|\n   <2> T3 - T5+M1 -",
    "a capo": f"capo: 2\n---\n{LINE}",
}
TEMPOS = (Fraction(104), Fraction(1000, 7))
BEATS = """([data, qpm]) => {
    const seen = (events, part) => events.filter(event => event.part === part).map(({ start, first }) => [start, first]);
    const from = [0, 1];
    return {click: seen(fifthpeg.score(data)(qpm), 'click'), count: seen(fifthpeg.score.countIn(data, from)(qpm), 'count'),
            begin: fifthpeg.time.frameOf(fifthpeg.score.countFrom(data, from), qpm, data.rate)};
}"""


@pytest.mark.parametrize("first", [True, False], ids=["first", "other"])
@pytest.mark.parametrize("rate_hz", RATES_HZ)
@pytest.mark.parametrize("room", [None, 300, 7], ids=["whole", "cut", "hardly any"])
def test_a_tick_is_the_players_own(scripts, first, rate_hz, room):
    found = scripts.evaluate("([first, rate, room]) => [...fifthpeg.click(first, rate, room || Infinity)]",
                             [first, rate_hz, room])
    made = tick(first, rate_hz, room or frames_in(LENGTH_MS, rate_hz))
    assert len(found) == len(made)
    assert np.abs(made - found).max() < 1e-6
    assert room or np.abs(made).max() > 0.15


@pytest.mark.parametrize("source", TABS.values(), ids=TABS)
@pytest.mark.parametrize("tempo", TEMPOS, ids=str)
def test_beats_fall_on_the_players_frames(scripts, source, tempo):
    tab = tab_of(source)
    seen = scripts.evaluate(BEATS, [tab.data, pair(tempo)])
    clicked, counted = clicked_beats(tab.lick, tab.performance), counted_beats(tab.lick, tab.performance)
    for beats, part in ((clicked, CLICK), (counted, COUNT)):
        assert [[frame_of(beat.at, tempo, RATE_HZ), beat.first] for beat in beats] == seen[part]
        assert len(beats) >= 2
    assert count_frames((TickStem(COUNT, counted),), tempo, RATE_HZ) == -seen["begin"]
