"""The player's exact time against Python's own fractions."""

import random
from fractions import Fraction
from math import floor

from fifthpeg.exports.player_data import pair
from fifthpeg.sound.mix import frame_of

FRACTIONS_TRIED = 4000
RATES_HZ = (8000, 22050, 44100, 48000)


def frame_in_fractions(quarters: Fraction, quarters_per_minute: Fraction, rate_hz: int) -> int:
    """The rule as it is written down: floor(x + 1/2), exactly."""
    return floor(quarters * 60 * rate_hz / quarters_per_minute + Fraction(1, 2))


def random_moments(seed: int) -> list[tuple[Fraction, Fraction, int]]:
    draw = random.Random(seed)
    return [
        (Fraction(draw.randint(-4000, 400000), draw.choice((1, 2, 3, 4, 5, 7, 8, 12, 48, 100, 300, 2400))),
         Fraction(draw.randint(1, 60000), draw.choice((1, 2, 3, 4, 7, 100))),
         draw.choice(RATES_HZ))
        for _ in range(FRACTIONS_TRIED)
    ]


def test_frames_fall_where_exact_fractions_put_them(scripts):
    moments = random_moments(seed=5)
    asked = [[pair(at), pair(tempo), rate] for at, tempo, rate in moments]
    frames = scripts.evaluate("asked => asked.map(one => fifthpeg.time.frameOf(...one))", asked)
    assert frames == [frame_in_fractions(*moment) for moment in moments]


def test_frames_agree_with_the_mixer_that_writes_the_recordings(scripts):
    moments = [moment for moment in random_moments(seed=6) if moment[0] >= 0]
    asked = [[pair(at), pair(tempo), rate] for at, tempo, rate in moments]
    frames = scripts.evaluate("asked => asked.map(one => fifthpeg.time.frameOf(...one))", asked)
    assert frames == [frame_of(*moment) for moment in moments]


def test_a_moment_halfway_between_two_frames_falls_on_the_later(scripts):
    # 60 quarters a minute, two frames a second: a quarter of a quarter note is half a frame.
    assert scripts.evaluate("fifthpeg.time.frameOf([1, 4], [60, 1], 2)") == 1
    assert scripts.evaluate("fifthpeg.time.frameOf([-1, 4], [60, 1], 2)") == 0


def test_sums_and_products_come_in_lowest_terms(scripts):
    draw = random.Random(7)
    pairs = [(Fraction(draw.randint(0, 999), draw.randint(1, 99)), Fraction(draw.randint(0, 999), draw.randint(1, 99)))
             for _ in range(500)]
    asked = [[pair(one), pair(other)] for one, other in pairs]
    found = scripts.evaluate(
        "asked => asked.map(([a, b]) => [fifthpeg.time.plus(a, b), fifthpeg.time.times(a, b),"
        " fifthpeg.time.compare(a, b)])", asked)
    assert found == [[pair(a + b), pair(a * b), (a > b) - (a < b)] for a, b in pairs]


def test_tempo_is_said_in_the_beat_it_is_counted_in(scripts):
    # 6/8 at 60 dotted quarters a minute is 90 quarters a minute.
    assert scripts.evaluate("fifthpeg.time.beatsPerMinute([90, 1], [3, 2])") == 60
    assert scripts.evaluate("fifthpeg.time.beatsPerMinute([208, 1], [1, 1])") == 208


def test_eighths_fall_where_the_published_table_puts_them(scripts):
    """Eighths at half-note tempos 60 to 160 (arithmetic: 60 000 / tempo / 4 ms), at a thousand frames a second."""
    milliseconds = {60: 250, 80: 188, 100: 150, 120: 125, 140: 107, 160: 94}
    for half_notes, expected in milliseconds.items():
        assert scripts.evaluate(f"fifthpeg.time.frameOf([1, 2], [{2 * half_notes}, 1], 1000)") == expected


def test_a_frames_moment_falls_on_that_very_frame(scripts):
    draw = random.Random(8)
    asked = [[draw.randint(-10**6, 10**8), pair(Fraction(draw.randint(1, 60000), draw.choice((1, 3, 7)))), 22050]
             for _ in range(FRACTIONS_TRIED)]
    found = scripts.evaluate("asked => asked.map(([f, qpm, rate]) => fifthpeg.time.quartersAt(f, qpm, rate))", asked)
    assert [Fraction(*at) for at in found] == [
        Fraction(frame) * Fraction(*qpm) / (60 * rate) for frame, qpm, rate in asked]
    frames = scripts.evaluate(
        "asked => asked.map(([f, qpm, rate]) => fifthpeg.time.frameOf(fifthpeg.time.quartersAt(f, qpm, rate), qpm, rate))",
        asked)
    assert frames == [frame for frame, _, _ in asked]
