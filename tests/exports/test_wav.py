"""WAV: RIFF, 16-bit PCM, mono or stereo; three readers agree sample for sample (wave, scipy, soundfile)."""

import wave
from io import BytesIO

import numpy as np
import pytest
import soundfile
from scipy.io import wavfile

from fifthpeg.exports.wav import wav_bytes
from tests.riff import chunks, cues_of, wave_chunks

RATE_HZ = 22_050
SAMPLES = np.random.default_rng(16).integers(-32768, 32768, 5001).astype(np.int16)
INFO = {"title": "Weir run ♭", "rights": "Millrace Banjo Workshop", "software": "Fifthpeg"}
FILE = wav_bytes(SAMPLES, RATE_HZ, INFO)


def test_the_standard_library_reads_it():
    with wave.open(BytesIO(FILE)) as opened:
        assert (opened.getnchannels(), opened.getsampwidth(), opened.getframerate()) == (1, 2, RATE_HZ)
        assert opened.readframes(opened.getnframes()) == SAMPLES.astype("<i2").tobytes()


@pytest.mark.filterwarnings("error")
def test_scipy_reads_it_without_a_warning():
    rate_hz, samples = wavfile.read(BytesIO(FILE))
    assert rate_hz == RATE_HZ
    assert np.array_equal(samples, SAMPLES)


def test_soundfile_reads_it_and_its_title():
    with soundfile.SoundFile(BytesIO(FILE)) as opened:
        assert np.array_equal(opened.read(dtype="int16"), SAMPLES)
        assert (opened.samplerate, opened.subtype) == (RATE_HZ, "PCM_16")
        tags = opened.copy_metadata()
    assert (tags["title"], tags["copyright"], tags["software"]) == (INFO["title"], INFO["rights"], INFO["software"])


@pytest.mark.parametrize("title", ["odd", "even"])
def test_chunks_are_even_and_sizes_add_up(title):
    """RIFF: a chunk of odd size is followed by one byte that its size does not count."""
    whole = wav_bytes(SAMPLES[:3], RATE_HZ, {"title": title})
    assert int.from_bytes(whole[4:8], "little") == len(whole) - 8
    assert len(whole) % 2 == 0


def test_without_information_there_is_no_list():
    assert b"LIST" not in wav_bytes(SAMPLES, RATE_HZ, {"title": "", "rights": ""})


def test_no_samples_make_a_file_too():
    assert wavfile.read(BytesIO(wav_bytes(SAMPLES[:0], RATE_HZ, {})))[1].size == 0


def test_other_samples_are_refused():
    with pytest.raises(TypeError, match="float64"):
        wav_bytes(SAMPLES / 32768, RATE_HZ, {})


CUES = [(0, "Pick-up"), (1000, "Bar 1"), (44_099, "Bar 1, time 2")]
CUED = wav_bytes(SAMPLES, RATE_HZ, INFO, CUES)


def test_cues_and_their_labels_are_found_by_a_reader_of_its_own():
    assert cues_of(CUED) == CUES
    assert cues_of(FILE) == []


def read_by_scipy(file: bytes) -> np.ndarray:
    """It knows no cues, says so, and reads on."""
    with pytest.warns(wavfile.WavFileWarning, match="not understood, skipping it") as warned:
        samples = wavfile.read(BytesIO(file))[1]
    assert len(warned) == 1
    return samples


def test_a_file_with_cues_is_read_as_before():
    assert np.array_equal(read_by_scipy(CUED), SAMPLES)
    with soundfile.SoundFile(BytesIO(CUED)) as opened:
        assert np.array_equal(opened.read(dtype="int16"), SAMPLES)
        assert opened.copy_metadata()["title"] == INFO["title"]
    with wave.open(BytesIO(CUED)) as opened:
        assert opened.getnframes() == len(SAMPLES)


def test_the_course_is_named_as_what_the_recording_is_from():
    """RIFF's IPRD, which libsndfile calls the album."""
    whole = wav_bytes(SAMPLES, RATE_HZ, {"title": "Weir run", "course": "Millrace Banjo Workshop"})
    assert (b"IPRD", b"Millrace Banjo Workshop\0") in list(chunks(dict(wave_chunks(whole))[b"LIST"][4:]))
    with soundfile.SoundFile(BytesIO(whole)) as opened:
        assert opened.copy_metadata()["album"] == "Millrace Banjo Workshop"


def test_two_rows_are_left_and_right():
    both = np.vstack([SAMPLES, -SAMPLES // 2])
    whole = wav_bytes(both, RATE_HZ, INFO, CUES)
    assert np.array_equal(read_by_scipy(whole), both.T)
    assert np.array_equal(soundfile.read(BytesIO(whole), dtype="int16")[0], both.T)
    with wave.open(BytesIO(whole)) as opened:
        assert (opened.getnchannels(), opened.getnframes()) == (2, len(SAMPLES))
    assert cues_of(whole) == CUES


def test_the_same_samples_give_the_same_bytes():
    assert wav_bytes(SAMPLES, RATE_HZ, INFO) == wav_bytes(SAMPLES, RATE_HZ, dict(reversed(INFO.items())))
