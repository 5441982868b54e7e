"""Gestures as arithmetic: which source plays when, how it ends, how its pitch moves."""

from fractions import Fraction
from math import floor, log2

import pytest
from hypothesis import given
from hypothesis import strategies as some

from fifthpeg.model.tab import CHOKE, RELEASE, SLIDE, Landing, Pluck, Strike
from fifthpeg.sound.frames import frame_of, frames_in
from fifthpeg.sound.pitch_moves import CHOKE_MS, QUANTUM, SLIDE_MS, VIBRATO_SEMITONES
from fifthpeg.sound.render import RATE_HZ
from fifthpeg.sound.voices import ACCENT_GAIN, DAMP_MS, HAND_OVER_MS, LIFT_MS, RING_OUT_MS, Voice, voices

from .licks import HOLD, REST, landing_inside, performed, pluck

QPM = Fraction(100)
EIGHTH = 60 * RATE_HZ // 100 // 2
"""In frames: 6615, without a remainder."""
EMPTY = (REST,) * 7


def voices_of(*bars, qpm=QPM) -> tuple[Voice, ...]:
    return voices(performed(*bars), 0, qpm, RATE_HZ)


def fall(voice: Voice) -> int:
    return voice.end_frame - voice.ramp_frame


def bent(string: int, fret: int, semitones, release=False) -> Strike:
    return Strike((Pluck(string, fret, choke_semitones=Fraction(semitones), release=release),))


def semitones_at(voice: Voice, frame: int) -> float:
    return 12 * log2(next((rate for at, rate in reversed(voice.rates) if at <= frame), 1.0))


class TestFrames:
    @given(some.fractions(0, 5000), some.fractions(Fraction(1, 100), 1000),
           some.sampled_from([8000, 22_050, 44_100, 48_000]))
    def test_a_time_falls_on_the_nearest_frame_exactly(self, quarters, qpm, rate_hz):
        assert frame_of(quarters, qpm, rate_hz) == floor(quarters * 60 / qpm * rate_hz + Fraction(1, 2))

    def test_halves_go_up(self):
        assert frame_of(Fraction(1, 2), Fraction(60), 3) == 2

    @given(some.integers(0, 100_000), some.integers(8000, 96_000))
    def test_milliseconds_in_frames_are_rounded_the_same_way(self, milliseconds, rate_hz):
        assert frames_in(milliseconds, rate_hz) == floor(Fraction(milliseconds * rate_hz, 1000) + Fraction(1, 2))

    def test_eighths_at_160_in_cut_time_are_93_75_ms_apart(self):
        """Common arithmetic: a half note 160 times a minute, four eighths in each."""
        assert frame_of(Fraction(1, 2), Fraction(320), 48_000) == 4500


class TestEndings:
    def test_a_string_picked_again_is_damped_just_before(self):
        first, second = voices_of((pluck(3, 2), pluck(3), *EMPTY[1:]))
        assert first.end_frame == second.start_frame == EIGHTH
        assert fall(first) == frames_in(DAMP_MS, RATE_HZ)

    def test_an_arrival_takes_over_as_the_old_sound_goes(self):
        first, arrival = voices_of((landing_inside(3, 2, "hammer-on", 3), *EMPTY))
        assert first.ramp_frame == arrival.start_frame
        assert fall(first) == frames_in(HAND_OVER_MS, RATE_HZ)
        assert arrival.sound.touch == "hammer-on"

    def test_a_rest_damps_every_string(self):
        for voice in voices_of((Strike((Pluck(1), Pluck(5))), REST, *EMPTY[1:])):
            assert voice.ramp_frame == EIGHTH
            assert fall(voice) == frames_in(LIFT_MS, RATE_HZ)

    def test_an_open_string_rings_under_other_plucks(self):
        first_string = voices_of((pluck(1), *(pluck(3),) * 7))[0]
        assert first_string.ramp_frame == 8 * EIGHTH

    def test_a_fretted_note_is_left_after_two_beats(self):
        fretted = voices_of((pluck(1, 4), *(pluck(3),) * 7))[0]
        assert fretted.ramp_frame == 5 * EIGHTH
        assert fall(fretted) == frames_in(LIFT_MS, RATE_HZ)

    def test_what_rings_at_the_end_rings_out(self):
        last = voices_of((*(pluck(3),) * 7, pluck(1)))[0]
        assert (last.ramp_frame, fall(last)) == (8 * EIGHTH, frames_in(RING_OUT_MS, RATE_HZ))

    def test_a_pluck_too_short_to_damp_falls_from_its_own_start(self):
        first = voices_of((pluck(3, 2), pluck(3), *EMPTY[1:]), qpm=Fraction(30_000))[0]
        assert first.ramp_frame == first.start_frame


class TestSlides:
    def test_frets_on_the_way_are_passed_in_even_steps_before_the_arrival(self):
        source, arrival = voices_of((landing_inside(3, 2, SLIDE, 5), *EMPTY))
        glide = min(frames_in(SLIDE_MS, RATE_HZ), arrival.start_frame // 2)
        wanted = [arrival.start_frame - glide * 2 // 3, arrival.start_frame - glide // 3]
        assert [round(semitones_at(source, frame), 9) for frame, _ in source.rates] == [1, 2]
        assert all(0 <= at - frame < QUANTUM for (at, _), frame in zip(source.rates, wanted, strict=True))
        assert arrival.sound.touch == "slide"

    def test_a_slide_down_steps_down(self):
        source, _ = voices_of((landing_inside(3, 5, SLIDE, 2), *EMPTY))
        assert [rate < 1 for _, rate in source.rates] == [True, True]

    def test_a_slide_of_one_fret_has_nothing_between(self):
        assert voices_of((landing_inside(3, 2, SLIDE, 3), *EMPTY))[0].rates == ()

    def test_rates_change_only_on_whole_quanta(self):
        bar = (landing_inside(3, 2, SLIDE, 9), bent(2, 10, 1, True), *EMPTY[2:], pluck(1, 5, vibrato=True))
        moved = voices_of(bar)
        frames = [frame for voice in moved for frame, _ in voice.rates]
        assert frames and all(frame % QUANTUM == 0 for frame in frames)


class TestChokes:
    def test_a_picked_choke_rises_smoothly_to_its_bend(self):
        (voice,) = voices_of((bent(2, 10, 1), *(HOLD,) * 7))
        heights = [semitones_at(voice, frame) for frame, _ in voice.rates]
        assert heights == sorted(heights)
        assert heights[-1] == pytest.approx(1)
        assert voice.rates[-1][0] <= frames_in(CHOKE_MS, RATE_HZ) + QUANTUM
        assert max(later - sooner for sooner, later in zip([0, *heights], heights)) < 0.1

    def test_a_release_comes_back_from_the_middle(self):
        (voice,) = voices_of((bent(2, 10, Fraction(1, 2), True), *(HOLD,) * 7))
        assert semitones_at(voice, round(3.9 * EIGHTH)) == pytest.approx(0.5)
        assert semitones_at(voice, round(4 * EIGHTH) + frames_in(CHOKE_MS, RATE_HZ) + QUANTUM) == pytest.approx(0)

    def test_a_choke_of_a_ringing_string_goes_on_with_its_sound(self):
        choke = Strike((), (Landing(2, CHOKE, 10, semitones=Fraction(1)),))
        let_down = Strike((), (Landing(2, RELEASE, 10),))
        (voice,) = voices_of((pluck(2, 10), HOLD, choke, HOLD, let_down, HOLD, HOLD, HOLD))
        assert semitones_at(voice, round(1.9 * EIGHTH)) == 0
        assert semitones_at(voice, round(3.9 * EIGHTH)) == pytest.approx(1)
        assert semitones_at(voice, round(6 * EIGHTH)) == pytest.approx(0)

    def test_vibrato_swings_both_ways_and_no_further(self):
        (voice,) = voices_of((pluck(1, 5, vibrato=True), *(HOLD,) * 7))
        heights = [semitones_at(voice, frame) for frame, _ in voice.rates]
        assert max(heights) == pytest.approx(VIBRATO_SEMITONES, rel=0.05)
        assert min(heights) == pytest.approx(-VIBRATO_SEMITONES, rel=0.05)


def test_an_accent_is_louder():
    bar = (pluck(3), Strike((Pluck(2),), accent=True), *EMPTY[1:])
    hands = [note.gain for note in performed(bar).notes]
    plain, accented = voices_of(bar)[::-1]
    assert (plain.gain, accented.gain) == (hands[0], hands[1] * ACCENT_GAIN)


def test_a_pinch_starts_on_one_frame():
    assert len({voice.start_frame for voice in voices_of((HOLD, Strike((Pluck(1), Pluck(5))), *EMPTY[1:]))}) == 1


class TestBrushes:
    def test_the_first_string_is_on_the_beat_and_the_others_follow(self):
        found = voices_of((HOLD, brush("T", 4, 3, 2, 1), *EMPTY[1:]))
        starts = {voice.sound.string: voice.start_frame for voice in found}
        assert starts == {string: EIGHTH + frames_in(late_ms, RATE_HZ)
                          for string, late_ms in ((4, 0), (3, 9), (2, 18), (1, 27))}

    def test_a_string_met_late_is_damped_late(self):
        before, late = [voice for voice in voices_of((pluck(1), brush("T", 3, 2, 1), *EMPTY[1:]))
                        if voice.sound.string == 1]
        assert before.end_frame == late.start_frame == EIGHTH + frames_in(18, RATE_HZ)
        assert fall(before) == frames_in(DAMP_MS, RATE_HZ)

    def test_none_comes_later_than_half_its_note(self):
        starts = [voice.start_frame for voice in voices_of((brush("T", 4, 3, 2, 1), *EMPTY), qpm=Fraction(3000))]
        assert max(starts) == EIGHTH // 30 // 2


def brush(finger: str, *strings: int) -> Strike:
    return Strike(tuple(Pluck(string, finger=finger) for string in strings))


@pytest.mark.parametrize("qpm", [Fraction(1), Fraction(100_000)])
def test_absurd_tempos_give_sources_that_start_before_they_end(qpm):
    bar = (landing_inside(3, 2, SLIDE, 9), bent(2, 10, 1, True), pluck(2, 10, vibrato=True), *(pluck(3),) * 5)
    assert all(v.start_frame <= v.ramp_frame <= v.end_frame for v in voices_of(bar, qpm=qpm))


def test_a_shallower_choke_lets_the_string_down_to_it():
    steps = [Strike((), (Landing(2, CHOKE, 10, semitones=Fraction(bend)),)) for bend in ("1", "1/2")]
    (voice,) = voices_of((pluck(2, 10), HOLD, steps[0], HOLD, steps[1], HOLD, HOLD, HOLD))
    assert semitones_at(voice, 4 * EIGHTH) == pytest.approx(1)
    assert semitones_at(voice, 6 * EIGHTH) == pytest.approx(0.5)
