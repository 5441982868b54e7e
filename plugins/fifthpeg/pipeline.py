"""The whole way of a lick: its hands decided, drawn, performed, sounded, written. No disk, no site.

    chain -> lick (as any other)       library -> what goes with what, fits
    lick -> notes -> fingers -> performance -> findings -> backing -> bank -> recordings
              |                      |            |                              |
       MusicXML, words             MIDI    drawing, schedule             WAV, player's data
"""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

import numpy as np

from . import __version__
from .analysis.fit_links import fit_link
from .analysis.fit_request import answer
from .analysis.fits import lengths_that_fit
from .analysis.neighbours import goes_with
from .analysis.study import choose_fingers, study
from .analysis.unclean import unclean_joins
from .companions import repaired_ending
from .compiled import VERDICT_SIGNS, Compiled, Facts, Filler, Filling, Neighbours, Options, SmallTab
from .engraving.draw import draw
from .exports.midi import midi_bytes
from .exports.musicxml import musicxml_bytes
from .exports.note_script import note_script
from .exports.player_data import player_data
from .exports.schedule import Recording, schedule, schedule_bytes
from .exports.wav import wav_bytes
from .exports.wav_cues import COUNT_LABEL, bar_labels
from .exports.words import words
from .exports.words_cells import cell_words
from .model.backing import BackingSound, Stem, is_backing
from .model.bank import BankNote
from .model.beats import CLICK, COUNT, TickStem, clicked_beats, counted_beats
from .model.chain import FitRequest
from .model.chord import chord_pitch_classes
from .model.findings import Findings, Fits
from .model.lick import TEMPO_NAMES, Lick
from .model.note import Note, fingers_from, with_fingers, with_left_fingers, written_notes
from .model.own_bank import NO_OWN_BANK, OwnBank
from .model.performance import Performance
from .model.pitch import frequency_hz
from .model.tuner import OpenString
from .sound.backing import arrange
from .sound.backing_sounds import render_backing
from .sound.click import count_frames
from .sound.desk import Desk
from .sound.frames import frame_of
from .sound.loudness import Levelled
from .sound.mix import sounds_needed
from .sound.own_bank import own_note
from .sound.perform import perform
from .sound.reference_tone import returning_pluck, steady_tone
from .sound.render import render_note, to_int16
from .sound.session import Session, record
from .sound.stems import backing_sounds_needed
from .sound.take_remarks import report_on

SOFTWARE = f"Fifthpeg {__version__}"
MOST_DEALT_BARS = 8
"""No singer is later than that."""
MOST_SAID_IN_FULL = 100
"""Licks of a library; above that the seams that are not clean are counted, and not each described."""


@dataclass(frozen=True)
class Studied:
    """A lick with its hands decided: what every output is made from. ``ticks`` are those its recordings have."""

    lick: Lick
    notes: tuple[Note, ...]
    performance: Performance
    findings: Findings
    stems: tuple[Stem, ...]
    ticks: tuple[TickStem, ...]


def compile_lick(lick: Lick, stem: str, options: Options) -> Compiled:
    """``stem`` is how the names of its files begin."""
    studied = study_lick(lick, options)
    said = tuple(bar.text for bar in words(lick, studied.notes, studied.findings))
    drawing = draw(lick, studied.notes, "\n".join(said), studied.findings)
    session = hear(studied, options)
    recordings = _recordings(studied, session, stem, options)
    listed = schedule(lick, studied.performance, studied.findings, recordings, studied.stems)
    ending = _mended_ending(studied, options)
    return Compiled(
        facts=_facts(studied, ending, tuple(session.recordings)),
        inline=drawing.inline,
        player=_player(studied, session, options),
        words=said,
        cells=cell_words(lick, studied.notes),
        files={
            ".svg": drawing.standalone.encode(),
            ".mid": midi_bytes(lick, studied.performance),
            ".musicxml": musicxml_bytes(lick, studied.notes, SOFTWARE),
            ".json": schedule_bytes(listed),
            **_wavs(studied, session, options),
        },
        ending=_small(ending, session, options) if ending else None,
    )


def _mended_ending(studied: Studied, options: Options) -> Studied | None:
    """For a lick of the library; a chain tells of its seams instead."""
    mends = studied.lick.id and not studied.lick.chain and studied.findings.loop.repairs
    ending = repaired_ending(studied.lick, options) if mends else None
    return study_lick(ending, options) if ending else None


def _small(studied: Studied, session: Session, options: Options) -> SmallTab:
    """``session`` is that of the lick it belongs to: it sounds as loud."""
    lick = studied.lick
    return SmallTab(lick.title, draw(lick, studied.notes, "", studied.findings).inline,
                    _player(studied, session, options),
                    tuple(bar.text for bar in words(lick, studied.notes, studied.findings)))


def _player(studied: Studied, session: Session, options: Options) -> str:
    data = player_data(studied.lick, studied.performance, options.rate_hz, session.player_gain,
                       studied.stems, session.backing_gain)
    return json.dumps(data, separators=(",", ":"))


def study_lick(lick: Lick, options: Options) -> Studied:
    written = written_notes(lick)
    performance = perform(lick, _fingers(lick, written, options))
    findings = study(lick, written, performance, *options.speeds, options.widest_span_mm)
    held = findings.left.fingers
    notes = with_left_fingers(with_fingers(written, findings.fingers), held)
    performance = replace(performance, notes=with_left_fingers(performance.notes, held))
    return Studied(lick, notes, performance, findings, arrange(lick, performance), _ticks(lick, performance, options))


def _ticks(lick: Lick, performance: Performance, options: Options) -> tuple[TickStem, ...]:
    stems = []
    if options.count_in_recordings:
        stems.append(TickStem(COUNT, counted_beats(lick, performance), options.count_level / 100))
    if options.click_in_recordings:
        stems.append(TickStem(CLICK, clicked_beats(lick, performance), options.click_level / 100))
    return tuple(stems)


def _fingers(lick: Lick, written: tuple[Note, ...], options: Options) -> dict[str, str]:
    """Chosen once a lick: a showing takes those of the whole, and chooses only for arrivals it has to pick."""
    if lick.whole is None:
        return choose_fingers(lick, written, *options.speeds)
    whole = written_notes(lick.whole)
    taken = fingers_from(with_fingers(whole, _fingers(lick.whole, whole, options)), written)
    return taken | choose_fingers(lick, with_fingers(written, taken), *options.speeds)


def hear(studied: Studied, options: Options) -> Session:
    """The recordings that are asked for, by name."""
    lick, performance, rate_hz = studied.lick, studied.performance, options.rate_hz
    bank = {sound: bank_samples(sound, rate_hz, options.own_bank) for sound in _sounds(studied)}
    desk = Desk(rate_hz, options.loudness_lufs, options.backing_in_recordings, options.backing_below_lu,
                options.stereo, options.room)
    tempos = {name: tempo for name, tempo in _tempos(lick) if name in options.recordings}
    return record(performance, lick.capo, studied.stems, bank, tempos, desk, studied.ticks)


def _tempos(lick: Lick) -> list[tuple[str, Fraction]]:
    """Name and quarters a minute of each recording there may be, from slow to full."""
    return [(name, share * lick.quarters_per_minute) for name, share in zip(TEMPO_NAMES, lick.tempos, strict=True)]


def _recordings(studied: Studied, session: Session, stem: str, options: Options) -> list[Recording]:
    """All there may be; those not made are named too."""
    return [_recording(name, tempo, stem, session.recordings.get(name),
                       count_frames(studied.ticks, tempo, options.rate_hz)) for name, tempo in _tempos(studied.lick)]


def _recording(name: str, tempo: Fraction, stem: str, made: Levelled | None, counted: int) -> Recording:
    if made is None:
        return Recording(name, tempo, None)
    return Recording(name, tempo, f"{stem}-{name}.wav", made.open_gain, made.lufs, made.true_peak_dbtp,
                     made.reduction_db, counted)


def _wavs(studied: Studied, session: Session, options: Options) -> dict[str, bytes]:
    """The recordings that are made, by the ending of their file's name, with a cue at the count and at every bar."""
    lick, tempos, rate_hz = studied.lick, dict(_tempos(studied.lick)), options.rate_hz
    info = {"title": lick.title, "course": options.course, "rights": lick.rights, "software": SOFTWARE}
    wavs = {}
    for name, recording in session.recordings.items():
        begin = count_frames(studied.ticks, tempos[name], rate_hz)
        cues = [(0, COUNT_LABEL)] if begin else []
        cues += [(begin + frame_of(at, tempos[name], rate_hz), bar) for at, bar in bar_labels(studied.performance)]
        wavs[f"-{name}.wav"] = wav_bytes(to_int16(recording.samples), rate_hz, info, cues)
    return wavs


@cache
def bank_samples(sound: BankNote | BackingSound, rate_hz: int, own: OwnBank = NO_OWN_BANK) -> np.ndarray:
    """Made once a run and shared by all licks: from the teacher's own recordings, or rendered."""
    if isinstance(sound, BackingSound):
        return render_backing(sound, rate_hz)
    recorded = own_note(sound, rate_hz, own) if own.files else None
    return render_note(sound, rate_hz) if recorded is None else recorded


def bank_scripts(names: Iterable[str], options: Options) -> Iterator[tuple[str, str]]:
    """(name, script) of each named bank note."""
    for name in names:
        sound = BackingSound.from_name(name) if is_backing(name) else BankNote.from_name(name)
        samples = bank_samples(sound, options.rate_hz, options.own_bank)
        yield name, note_script(name, samples, options.rate_hz)


def tuner_sounds(strings: Sequence[OpenString], options: Options) -> dict[str, bytes]:
    """File name -> content: of each string its steady tone and its pluck, as a recording and as a script."""
    rate_hz, lufs = options.rate_hz, options.loudness_lufs
    loops = {string.tone: (string.pitch_words, steady_tone(frequency_hz(string.midi), rate_hz, lufs))
             for string in strings}
    for string in strings:
        note = bank_samples(string.bank_note, rate_hz, options.own_bank)
        loops[string.pluck] = string.words, returning_pluck(note, rate_hz, lufs)
    files = {}
    for name, (title, loop) in loops.items():
        files[f"{name}.wav"] = wav_bytes(to_int16(loop), rate_hz, {"title": title, "software": SOFTWARE})
        files[f"{name}.js"] = note_script(name, loop, rate_hz).encode()
    return files


def own_bank_faults(own: OwnBank) -> list[str]:
    """What keeps files of a teacher's own bank from being used."""
    report = report_on(own)
    faults = [f"{remark.file_name} {remark.says}" for remark in report.remarks if remark.unusable]
    return faults or ([] if report.recorded else ["there is no recording in it"])


def _facts(studied: Studied, ending: Studied | None, recordings: tuple[str, ...]) -> Facts:
    """The bank's sounds are those of the lick and of its mended ending."""
    findings = studied.findings
    sounds = dict.fromkeys(sound.name for one in (studied, ending) if one for sound in _sounds(one))
    return Facts(findings.rolls, findings.loop, findings.loop_with_exit, tuple(sounds), findings.half_rolls,
                 findings.repeats, findings.seams, findings.left, findings.harmony, recordings,
                 any(stem.name == COUNT for stem in studied.ticks))


def _sounds(studied: Studied) -> tuple[BankNote | BackingSound, ...]:
    return (*sounds_needed(studied.performance, studied.lick.capo), *backing_sounds_needed(studied.stems))


def neighbours(licks: Sequence[Lick], options: Options) -> Neighbours:
    """Which lick of a library may follow which; in a very large one the seams are not said in full."""
    found = goes_with(licks, *options.speeds)
    ids = tuple(lick.id or "" for lick in licks)
    places = range(len(licks))
    rows = tuple("".join(VERDICT_SIGNS[found.verdict(before, after)] for after in places) for before in places)
    joins = unclean_joins(licks, *options.speeds) if len(licks) <= MOST_SAID_IN_FULL else {}
    return Neighbours(ids, rows, {f"{ids[before]} {ids[after]}": join for (before, after), join in joins.items()})


def find_fits(request: FitRequest, licks: Sequence[Lick], options: Options) -> Fits:
    return answer(request, licks, *options.speeds)


def fillings(licks: Sequence[Lick], options: Options) -> tuple[Filling, ...]:
    """For each chord of the library, under the first of its spellings, what time over it can be filled with; those with
    the most licks first."""
    written = [name for lick in licks for bar in lick.bars for _, name in bar.chords]
    names = {chord_pitch_classes(name): name for name in reversed(written)}
    found = filter(None, (_filling(chord, licks, options) for chord in sorted(names.values())))
    return tuple(sorted(found, key=lambda filling: -len(filling.fillers)))


def _filling(chord: str, licks: Sequence[Lick], options: Options) -> Filling | None:
    links = [link for link in (fit_link(lick, chord) for lick in licks) if link]
    lengths = lengths_that_fit([link.lick for link in links], chord, MOST_DEALT_BARS, *options.speeds)
    fillers = tuple(Filler(link.lick.id or "", link.body_bars, link.full_bars) for link in links)
    return Filling(chord, lengths, fillers) if lengths else None
