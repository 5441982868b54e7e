"""Where slots begin, as the player gets it; worked by hand."""

from fifthpeg.exports.player_bars import player_bars
from fifthpeg.sound.perform import perform
from tests.written import lick

LINE = "T3 I2 M1 T5 I2 M1 T3 M1"


def bars(text: str) -> list[dict]:
    made = lick(text)
    return player_bars(made, perform(made, {}))


def test_eighths_of_a_bar_lie_half_a_quarter_apart():
    (bar,) = bars(LINE)
    assert (bar["bar"], bar["pass"], bar["first"], bar["barline"]) == (1, 1, 1, [0, 1])
    assert bar["slots"] == [[0, 1], [1, 2], [1, 1], [3, 2], [2, 1], [5, 2], [3, 1], [7, 2]]


def test_bounce_puts_off_every_second_slot():
    assert bars(f"bounce: 60\n---\n{LINE}")[0]["slots"][:4] == [[0, 1], [3, 5], [1, 1], [8, 5]]


def test_a_pick_up_comes_first_and_its_barline_after_it():
    pickup, bar = bars(f"pickup: 2\n---\nI2 M1 | {LINE}")
    assert (pickup["bar"], pickup["slots"], pickup["barline"]) == (0, [[0, 1], [1, 2]], [1, 1])
    assert bar["slots"][0] == bar["barline"] == [1, 1]


def test_a_repeat_is_played_out():
    assert [(bar["bar"], bar["pass"], bar["slots"][0]) for bar in bars(f"|: {LINE} :|")] == [(1, 1, [0, 1]), (1, 2, [4, 1])]
