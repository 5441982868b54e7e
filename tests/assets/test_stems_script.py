"""The backing in the player's score: the mixer's own frames at every tempo, and levels worked by hand."""

from fractions import Fraction

import pytest

from fifthpeg.exports.player_data import pair
from fifthpeg.sound.render import RATE_HZ
from fifthpeg.sound.stems import stem_voices
from tests.browser.stage import tab_of

BACKED = {
    "a walk up": "tempo: 200\n---\n[G] T3 I2 M1 T5 I2 M1 T3 M1 | [C] T4:2 I3 M1:2 T5 I3 M1:2 T4:2 M1:2",
    "bounce in two": "meter: 2/4\nbounce: 62\n---\n[C] T4:2 I3 M1:2 T5 | T4:2 I3 M1:2 T5",
    "a waltz repeated": "meter: 3/4\n---\n|: [G] T3 - I2 - M1 - :|",
    "a pick-up": "pickup: 2\n---\n[D7] T4 T3 | T4 - I2:1 - M1 - T5 -",
    "a jig with a capo": "meter: 6/8\ncapo: 2\n---\n[G] T3 I2 M1 T3 I2 M1",
}
TEMPOS = (Fraction(104), Fraction(156), Fraction(1000, 7))
LEVELS = """([data, state]) => {
    const facts = {id: null, least: 60, most: 300, full: 200, last: 7};
    const usual = fifthpeg.settings.recall({read: () => ({})}, facts);
    return fifthpeg.tab.levels({data, state: {...usual, ...state}});
}"""


@pytest.mark.parametrize("source", BACKED.values(), ids=BACKED)
@pytest.mark.parametrize("tempo", TEMPOS, ids=str)
def test_stems_start_fall_and_end_at_the_recordings_frames(scripts, source, tempo):
    tab = tab_of(source, backing_gain=0.5)
    found = scripts.evaluate("([data, qpm]) => fifthpeg.score(data)(qpm).filter(e => !['lick', 'click'].includes(e.part))",
                             [tab.data, pair(tempo)])
    expected = [(stem.name, voice.sound.name, voice.start_frame, voice.ramp_frame, voice.end_frame, voice.gain)
                for stem in tab.stems for voice in stem_voices(stem, tab.performance.quarters, tempo, RATE_HZ)]
    assert [(event["part"], event["voice"]["sound"], *(event["voice"][key] for key in ("start", "ramp", "end", "gain")))
            for event in found] == expected
    assert len(expected) >= 6
    assert not any(event["voice"]["rates"] for event in found)


@pytest.mark.parametrize(("state", "levels"), [
    ({}, {"all": 1, "lick": 1, "click": 0, "guitar": 0.5, "bass": 0.5}),
    ({"backing": False}, {"all": 1, "lick": 1, "click": 0, "guitar": 0, "bass": 0}),
    ({"backing": False, "guitarLevel": 200}, {"all": 1, "lick": 1, "click": 0, "guitar": 0, "bass": 0}),
    ({"guitarLevel": 40, "bassLevel": 80, "muted": True}, {"all": 1, "lick": 0, "click": 0, "guitar": 0.2, "bass": 0.4}),
    ({"guitarLevel": 200, "bassLevel": 200}, {"all": 0.5, "lick": 1, "click": 0, "guitar": 1, "bass": 1}),
    ({"guitarLevel": 0, "bassLevel": 150}, {"all": 1 / 1.5, "lick": 1, "click": 0, "guitar": 0, "bass": 0.75}),
    ({"click": True, "guitarLevel": 150}, {"all": 1 / 1.8, "lick": 1, "click": 1, "guitar": 0.75, "bass": 0.5}),
    ({"click": True, "clickLevel": 200}, {"all": 1 / 1.6, "lick": 1, "click": 2, "guitar": 0.5, "bass": 0.5}),
    ({"click": True, "clickLevel": 0}, {"all": 1, "lick": 1, "click": 0, "guitar": 0.5, "bass": 0.5}),
    ({"clickLevel": 200}, {"all": 1, "lick": 1, "click": 0, "guitar": 0.5, "bass": 0.5}),
    ({"counted": True, "countLevel": 200}, {"all": 1, "lick": 1, "click": 0, "count": 2, "guitar": 0.5, "bass": 0.5}),
])
def test_levels_worked_by_hand(scripts, state, levels):
    """Stems at a gain of 0.5; a tick's peak is 0.3."""
    data = tab_of(BACKED["a walk up"], backing_gain=0.5).data
    assert scripts.evaluate(LEVELS, [data, state]) == pytest.approx({"count": 1} | levels)


def test_a_tab_without_backing_can_t_lose_its_lick(scripts):
    data = tab_of("T3 I2 M1 T5 I2 M1 T3 M1").data
    assert scripts.evaluate(LEVELS, [data, {"muted": True}]) == {"all": 1, "lick": 1, "click": 0, "count": 1}
