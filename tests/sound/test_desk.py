"""Lick and backing together: balance, sides and room, heard by pyloudnorm and measured by hand."""

from fractions import Fraction

import numpy as np
import pyloudnorm
import pytest

from fifthpeg.compiled import ROOM_NAMES as ROOM_SETTINGS
from fifthpeg.compiled import Options
from fifthpeg.sound.backing import arrange
from fifthpeg.sound.backing_sounds import render_backing
from fifthpeg.sound.desk import ASIDE_DEGREES, Desk, backing_gain, mix_whole, sides, with_backing_at
from fifthpeg.sound.mix import mix, sounds_needed
from fifthpeg.sound.perform import perform
from fifthpeg.sound.render import RATE_HZ, render_bank
from fifthpeg.sound.room import ROOM_NAMES, ROOMS, answer, in_room
from fifthpeg.sound.session import record
from fifthpeg.sound.stems import add_stem, backing_sounds_needed
from tests.written import lick

ROUND = "tempo: 200\n---\n[G] T3 I2 M1 T5 I2 M1 T3 M1 | [C] T4:2 I3 M1:2 T5 I3 M1:2 T4:2 M1:2"
DESK, FULL = Desk(RATE_HZ), Fraction(200)


@pytest.fixture(scope="module")
def played() -> tuple:
    """(performance, stems, bank) of a lick with chords."""
    made = lick(ROUND)
    performance = perform(made, {})
    stems = arrange(made, performance)
    backing = {sound: render_backing(sound, RATE_HZ) for sound in backing_sounds_needed(stems)}
    return performance, stems, render_bank(sounds_needed(performance, 0)) | backing


@pytest.fixture(scope="module")
def parts(played) -> tuple[np.ndarray, dict[str, np.ndarray]]:
    """(the lick alone, each stem alone), mono at full tempo."""
    performance, stems, bank = played
    lick_alone = mix(performance, 0, bank, FULL, RATE_HZ)
    return lick_alone, {stem.name: add_stem(np.zeros_like(lick_alone), stem, performance, bank, FULL, RATE_HZ)
                        for stem in stems}


def lufs(samples: np.ndarray) -> float:
    return pyloudnorm.Meter(RATE_HZ, filter_class="DeMan").integrated_loudness(samples.T)


@pytest.mark.parametrize("below_lu", [0.0, 8.0, 20.0])
def test_the_backing_lies_as_far_below_the_lick_as_asked(played, parts, below_lu):
    alone, stems = parts
    gain = backing_gain(played[0], alone, *played[1:], Desk(RATE_HZ, below_lu=below_lu))
    assert lufs(alone) - lufs(gain * sum(stems.values())) == pytest.approx(below_lu, abs=0.05)


def test_where_there_is_no_backing_or_no_lick_nothing_is_weighed(played, parts):
    performance, stems, bank = played
    assert backing_gain(performance, parts[0], (), bank, DESK) == 1.0
    assert backing_gain(performance, np.zeros_like(parts[0]), stems, bank, DESK) == 1.0


def test_mono_is_the_sum(played, parts):
    performance, stems, bank = played
    alone, by_name = parts
    whole = mix_whole(performance, 0, stems, with_backing_at(0.5, bank), FULL, DESK)
    assert np.allclose(whole, alone + 0.5 * by_name["guitar"] + 0.5 * by_name["bass"])


def test_in_stereo_the_lick_stands_in_the_middle_and_the_backing_a_little_aside(played, parts):
    performance, (guitar, bass), bank = played
    desk, alone = Desk(RATE_HZ, stereo=True), parts[0]
    assert np.array_equal(mix_whole(performance, 0, (), bank, FULL, desk), np.vstack([alone, alone]))
    for stem, least, most in ((guitar, 1.5, 4.0), (bass, 0.4, 0.9)):
        left, right = mix_whole(performance, 0, (stem,), bank, FULL, desk) - alone
        assert least < np.linalg.norm(left) / np.linalg.norm(right) < most
        assert lufs(np.vstack([left, right])) == pytest.approx(lufs(np.vstack([parts[1][stem.name]] * 2)), abs=0.01)


@pytest.mark.parametrize("degrees", [0.0, *ASIDE_DEGREES.values()])
def test_a_place_changes_no_power(degrees):
    left, right = sides(degrees)
    assert left ** 2 + right ** 2 == pytest.approx(2)
    assert degrees or (left, right) == pytest.approx((1, 1))


def test_the_rooms_of_the_settings_are_those_there_are():
    assert ROOM_SETTINGS == ROOM_NAMES
    assert Options().room == "none"


def test_no_room_changes_nothing(parts):
    assert in_room(parts[0], RATE_HZ, "none") is parts[0]


@pytest.mark.parametrize("rate_hz", [22_050, 48_000])
def test_a_room_fades_as_it_says(rate_hz):
    """By Schroeder's backward integration (1965), over the first 30 dB of the tail."""
    room = ROOMS["small"]
    heard = answer(room, rate_hz, side=0)
    tail = heard[round(room.tail_from_seconds * rate_hz):]
    to_come = 10 * np.log10(np.cumsum(tail[::-1] ** 2)[::-1] / np.sum(tail ** 2))
    reached = np.argmax(to_come < -30) / rate_hz
    assert 2 * reached == pytest.approx(room.tail_seconds, rel=0.1)
    assert 10 * np.log10(np.sum(tail ** 2)) == pytest.approx(room.tail_db, abs=0.01)


def test_a_room_answers_after_the_sound_and_the_same_every_time(parts):
    once, again = (in_room(parts[0], RATE_HZ, "small") for _ in range(2))
    assert np.array_equal(once, again)
    first = np.flatnonzero(parts[0])[0]
    assert not np.abs(once[:first]).max() > 1e-12
    assert len(once) == len(parts[0])


def test_a_rooms_two_sides_differ(parts):
    left, right = in_room(np.vstack([parts[0]] * 2), RATE_HZ, "small")
    assert not np.allclose(left, right)


def test_all_recordings_of_a_lick_are_one_loudness_with_the_same_balance(played):
    tempos = {"slow": Fraction(100), "medium": Fraction(150), "full": FULL}
    session = record(*played[:1], 0, *played[1:], tempos, DESK)
    assert list(session.recordings) == list(tempos)
    for recording in session.recordings.values():
        assert lufs(recording.samples) == pytest.approx(DESK.loudness_lufs, abs=0.5)
        assert recording.true_peak_dbtp <= -1
    assert session.player_gain == session.recordings["full"].open_gain


def test_the_gains_do_not_depend_on_which_recordings_are_made(played):
    performance, stems, bank = played
    full = {"full": FULL}
    whole = record(performance, 0, stems, bank, full, DESK)
    none = record(performance, 0, stems, bank, {}, DESK)
    bare = record(performance, 0, stems, bank, full, Desk(RATE_HZ, backing=False))
    assert (none.player_gain, none.backing_gain) == (whole.player_gain, whole.backing_gain)
    assert (bare.player_gain, bare.backing_gain) == (whole.player_gain, whole.backing_gain)
    assert none.recordings == {}
    assert not np.allclose(bare.recordings["full"].samples, whole.recordings["full"].samples)
