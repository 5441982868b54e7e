"""The whole way of a lick: its hands decided, drawn, performed, sounded, written. No disk, no site.

    lick -> notes -> fingers -> performance -> findings -> bank notes -> recordings
              |                      |            |                         |
       MusicXML, words             MIDI    drawing, schedule        WAV, player's data
"""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

import numpy as np

from . import __version__
from .analysis.study import choose_fingers, study
from .compiled import Compiled, Facts, Options
from .engraving.draw import draw
from .exports.midi import midi_bytes
from .exports.musicxml import musicxml_bytes
from .exports.note_script import note_script
from .exports.player_data import player_data
from .exports.schedule import Recording, schedule, schedule_bytes
from .exports.wav import wav_bytes
from .exports.words import words
from .exports.words_cells import cell_words
from .model.bank import BankNote
from .model.findings import Findings
from .model.lick import TEMPO_NAMES, Lick
from .model.note import Note, fingers_from, with_fingers, written_notes
from .model.performance import Performance
from .sound.loudness import level
from .sound.mix import mix, sounds_needed
from .sound.perform import perform
from .sound.render import render_note, to_int16

SOFTWARE = f"Fifthpeg {__version__}"


@dataclass(frozen=True)
class Studied:
    """A lick with its hands decided: what every output is made from."""

    lick: Lick
    notes: tuple[Note, ...]
    performance: Performance
    findings: Findings


def compile_lick(lick: Lick, stem: str, options: Options) -> Compiled:
    """``stem`` is how the names of its files begin."""
    studied = study_lick(lick, options)
    said = tuple(bar.text for bar in words(lick, studied.notes))
    drawing = draw(lick, studied.notes, "\n".join(said))
    recordings, wavs = record(studied, stem, options)
    listed = schedule(lick, studied.performance, studied.findings, recordings)
    player = player_data(lick, studied.performance, options.rate_hz, recordings[-1].gain)
    return Compiled(
        facts=_facts(studied),
        inline=drawing.inline,
        player=json.dumps(player, separators=(",", ":")),
        words=said,
        cells=cell_words(lick, studied.notes),
        files={
            ".svg": drawing.standalone.encode(),
            ".mid": midi_bytes(lick, studied.performance),
            ".musicxml": musicxml_bytes(lick, studied.notes, SOFTWARE),
            ".json": schedule_bytes(listed),
            **wavs,
        },
    )


def study_lick(lick: Lick, options: Options) -> Studied:
    speeds = options.clash_per_second, options.tight_per_second
    written = written_notes(lick)
    performance = perform(lick, _fingers(lick, written, options))
    findings = study(lick, written, performance, *speeds)
    return Studied(lick, with_fingers(written, findings.fingers), performance, findings)


def _fingers(lick: Lick, written: tuple[Note, ...], options: Options) -> dict[str, str]:
    """Chosen once a lick: a showing takes those of the whole, and chooses only for arrivals it has to pick."""
    speeds = options.clash_per_second, options.tight_per_second
    if lick.whole is None:
        return choose_fingers(lick, written, *speeds)
    whole = written_notes(lick.whole)
    taken = fingers_from(with_fingers(whole, _fingers(lick.whole, whole, options)), written)
    return taken | choose_fingers(lick, with_fingers(written, taken), *speeds)


def record(studied: Studied, stem: str, options: Options) -> tuple[list[Recording], dict[str, bytes]]:
    """The recordings from slow to full, and their WAV files by the ending of their name."""
    lick, performance, rate_hz = studied.lick, studied.performance, options.rate_hz
    bank = {sound: bank_samples(sound, rate_hz) for sound in sounds_needed(performance, lick.capo)}
    info = {"title": lick.title, "rights": lick.rights, "software": SOFTWARE}
    recordings, wavs = [], {}
    for name, share in zip(TEMPO_NAMES, lick.tempos, strict=True):
        tempo = share * lick.quarters_per_minute
        levelled = level(mix(performance, lick.capo, bank, tempo, rate_hz), rate_hz, options.loudness_lufs)
        recordings.append(Recording(name, tempo, f"{stem}-{name}.wav", levelled.open_gain))
        wavs[f"-{name}.wav"] = wav_bytes(to_int16(levelled.samples), rate_hz, info)
    return recordings, wavs


@cache
def bank_samples(sound: BankNote, rate_hz: int) -> np.ndarray:
    """Rendered once a run and shared by all licks."""
    return render_note(sound, rate_hz)


def bank_scripts(names: Iterable[str], options: Options) -> Iterator[tuple[str, str]]:
    """(name, script) of each named bank note."""
    for name in names:
        samples = bank_samples(BankNote.from_name(name), options.rate_hz)
        yield name, note_script(name, samples, options.rate_hz)


def _facts(studied: Studied) -> Facts:
    findings = studied.findings
    sounds = sounds_needed(studied.performance, studied.lick.capo)
    return Facts(findings.rolls, findings.loop, findings.loop_with_exit, tuple(sound.name for sound in sounds))
