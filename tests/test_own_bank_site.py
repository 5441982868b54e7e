"""A site with recordings of the teacher's own: every lick plays them, in its files and in the player, and caches follow."""

import base64
import io
import re
import wave
from pathlib import Path

import numpy as np
import pytest
import soundfile

from fifthpeg.command import main
from fifthpeg.compiled import Options
from fifthpeg.model.bank import BankNote
from fifthpeg.model.take_names import TakeName
from fifthpeg.pages.own_recordings import read_own_bank
from fifthpeg.pipeline import bank_samples, bank_scripts, compile_lick
from tests.sites import ONE_LICK, Built, build_pages
from tests.sound.takes import plucked, wav
from tests.written import lick

WEIR = "id: weir\ntempo: 160\n---\nT3 I2:1 M1 T3:2 I2 M1 T3:2h4 M1"
"""Strings 1 to 3, open, fretted and hammered on."""


@pytest.fixture(scope="module")
def recordings(tmp_path_factory) -> Path:
    """The open strings of a banjo that has not been tuned for a while."""
    folder = tmp_path_factory.mktemp("recordings")
    for string, cents in ((1, 8.0), (2, -21.0), (3, 33.0), (4, 2.0), (5, -40.0)):
        name = TakeName(string, 0)
        (folder / name.file_name).write_bytes(wav(plucked(name, cents), bits=24))
    (folder / "notes.txt").write_text("recorded in the kitchen")
    return folder


def recording(content: bytes) -> np.ndarray:
    with wave.open(io.BytesIO(content)) as file:
        return np.frombuffer(file.readframes(file.getnframes()), dtype="<i2") / 32768


def test_a_lick_sounds_from_the_recordings_and_its_lesson_says_nothing_of_it(recordings):
    ours, theirs = (compile_lick(lick(WEIR), "weir", options).files["-full.wav"]
                    for options in (Options(own_bank=read_own_bank(recordings)), Options()))
    assert len(ours) == len(theirs) and ours != theirs


def test_the_player_gets_the_very_samples_the_recordings_are_mixed_from(recordings):
    options = Options(own_bank=read_own_bank(recordings))
    compiled = compile_lick(lick(WEIR), "weir", options)
    for name, script in bank_scripts(compiled.facts.bank, options):
        flac = base64.b64decode(re.search(r'"([A-Za-z0-9+/=]{99,})"', script)[1])
        decoded, rate_hz = soundfile.read(io.BytesIO(flac))
        assert rate_hz == options.rate_hz
        assert np.array_equal(decoded, bank_samples(BankNote.from_name(name), rate_hz, options.own_bank))


def test_settings_with_other_recordings_are_other_settings(recordings, tmp_path):
    """Their text is what keys of kept files are made from."""
    own = read_own_bank(recordings)
    for path in recordings.glob("*.wav"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    assert repr(Options(own_bank=read_own_bank(tmp_path))) == repr(Options(own_bank=own)) != repr(Options())
    (tmp_path / "3-0.wav").write_bytes(wav(plucked(TakeName(3, 0), 5.0)))
    assert repr(Options(own_bank=read_own_bank(tmp_path))) != repr(Options(own_bank=own))
    digest_and_its_name = len(repr(Options(own_bank=own))) - len(repr(Options()))
    assert 0 < digest_and_its_name < 100  # and none of the megabytes that it stands for


def build(folder: Path, recordings: str, strict: bool = False) -> Built:
    return build_pages(folder, {"index.md": ONE_LICK}, strict, plugins=["search", {"fifthpeg": {"own_bank": recordings}}])


def sounding_files(site: Built) -> dict[str, bytes]:
    """What is heard, by the names of the files: their folders are named by what is in them."""
    return {path.name: path.read_bytes() for ending in ("wav", "js") for path in (site.site / "media").rglob(f"*.{ending}")}


def test_a_site_takes_the_recordings_and_makes_all_anew_when_one_changes(recordings, tmp_path):
    """The cache is kept between the builds."""
    (tmp_path / "sounds").mkdir()
    for path in recordings.iterdir():
        (tmp_path / "sounds" / path.name).write_bytes(path.read_bytes())
    first = sounding_files(build(tmp_path, "sounds", strict=True))
    again = sounding_files(build(tmp_path, "sounds", strict=True))
    (tmp_path / "sounds/1-0.wav").write_bytes(wav(plucked(TakeName(1, 0), noise_db=-60)))
    changed = sounding_files(build(tmp_path, "sounds", strict=True))
    assert first == again
    assert first.keys() == changed.keys()
    assert {name for name in first if first[name] != changed[name]} >= {
        "weir-run-full.wav", "1-62-0-pick.js", "pluck-1-62.wav", "pluck-1-62.js"}
    assert first["tone-62.wav"] == changed["tone-62.wav"]


def test_a_build_names_what_it_cannot_use_and_a_strict_one_refuses_it(tmp_path):
    (tmp_path / "sounds").mkdir()
    (tmp_path / "sounds/G3.wav").write_bytes(wav(plucked(TakeName(3, 0))))
    for _ in range(2):
        log = build(tmp_path, "sounds").log
        assert "own_bank sounds: G3.wav can't be used" in log and "name it `3-0.wav`" in log
    assert build(tmp_path, "sounds", strict=True).failure is not None


def test_a_folder_that_is_not_there_is_said(tmp_path):
    site = build(tmp_path, "nowhere")
    assert site.failure is not None and "own_bank" in site.log and "nowhere" in site.log


def test_bank_check_says_what_there_is_and_gives_0(recordings, capsys):
    assert main(["bank", "check", str(recordings)]) == 0
    said = capsys.readouterr().out
    assert f"{recordings}/3-0.wav is 33 cents sharp; it is brought into tune" in said
    assert "String 4: 1 of 23 recorded; frets 1 to 22 from the open string" in said
    assert said.endswith("5 of 110 notes recorded, the farthest 40 cents out of tune; every file can be used\n")


def test_bank_check_gives_1_where_a_file_cannot_be_used(tmp_path, capsys):
    (tmp_path / "3-2.wav").write_bytes(wav(plucked(TakeName(3, 4))))
    assert main(["bank", "check", str(tmp_path)]) == 1
    assert "3-2.wav can't be used: it sounds B3" in capsys.readouterr().out


@pytest.mark.parametrize("folder", ["nowhere", "."])
def test_bank_check_of_nothing_is_the_command_s_own_trouble(tmp_path, monkeypatch, capsys, folder):
    monkeypatch.chdir(tmp_path)
    assert main(["bank", "check", folder]) == 2
    assert folder in capsys.readouterr().err
