"""The whole way of a lick: its hands decided, drawn, performed, sounded, written. No disk, no site.

    chain -> lick (as any other)       library -> what goes with what, fits
    lick -> notes -> fingers -> performance -> findings -> bank notes -> recordings
              |                      |            |                         |
       MusicXML, words             MIDI    drawing, schedule        WAV, player's data
"""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from . import __version__
from .analysis.chain import link_up
from .analysis.fit_request import answer, as_chain
from .analysis.neighbours import goes_with
from .analysis.repairs import loop_repairs
from .analysis.seams import differences, seam
from .analysis.settle import settled
from .analysis.study import choose_fingers, study
from .analysis.unclean import unclean_joins
from .analysis.vamp import vamp
from .compiled import VERDICT_SIGNS, Compiled, Facts, Neighbours, Options, SmallTab
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
from .model.chain import Chain, FitRequest, Link
from .model.chord import is_chord
from .model.findings import Findings, Fits
from .model.lick import TEMPO_NAMES, Lick, Showing
from .model.note import Note, fingers_from, with_fingers, with_left_fingers, written_notes
from .model.own_bank import NO_OWN_BANK, OwnBank
from .model.performance import Performance
from .model.pitch import frequency_hz
from .model.tuner import OpenString
from .reading.showing import show
from .sound.loudness import level
from .sound.mix import mix, sounds_needed
from .sound.own_bank import own_note
from .sound.perform import perform
from .sound.reference_tone import returning_pluck, steady_tone
from .sound.render import render_note, to_int16
from .sound.take_remarks import report_on

SOFTWARE = f"Fifthpeg {__version__}"
MOST_SAID_IN_FULL = 100
"""Licks of a library; above that the seams that are not clean are counted, and not each described."""


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
    said = tuple(bar.text for bar in words(lick, studied.notes, studied.findings))
    drawing = draw(lick, studied.notes, "\n".join(said), studied.findings)
    recordings, wavs = record(studied, stem, options)
    listed = schedule(lick, studied.performance, studied.findings, recordings)
    player = player_data(lick, studied.performance, options.rate_hz, recordings[-1].gain)
    ending = _mended_ending(studied, options)
    return Compiled(
        facts=_facts(studied, ending),
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
        ending=_small(ending, options, recordings[-1].gain) if ending else None,
    )


def _mended_ending(studied: Studied, options: Options) -> Studied | None:
    """For a lick of the library; a chain tells of its seams instead."""
    mends = studied.lick.id and not studied.lick.chain and studied.findings.loop.repairs
    ending = repaired_ending(studied.lick, options) if mends else None
    return study_lick(ending, options) if ending else None


def _small(studied: Studied, options: Options, gain: float) -> SmallTab:
    """As loud as the recordings of the lick it belongs to."""
    lick = studied.lick
    player = player_data(lick, studied.performance, options.rate_hz, gain)
    return SmallTab(lick.title, draw(lick, studied.notes, "", studied.findings).inline,
                    json.dumps(player, separators=(",", ":")),
                    tuple(bar.text for bar in words(lick, studied.notes, studied.findings)))


def study_lick(lick: Lick, options: Options) -> Studied:
    written = written_notes(lick)
    performance = perform(lick, _fingers(lick, written, options))
    findings = study(lick, written, performance, *options.speeds, options.widest_span_mm)
    held = findings.left.fingers
    notes = with_left_fingers(with_fingers(written, findings.fingers), held)
    return Studied(lick, notes, replace(performance, notes=with_left_fingers(performance.notes, held)), findings)


def _fingers(lick: Lick, written: tuple[Note, ...], options: Options) -> dict[str, str]:
    """Chosen once a lick: a showing takes those of the whole, and chooses only for arrivals it has to pick."""
    if lick.whole is None:
        return choose_fingers(lick, written, *options.speeds)
    whole = written_notes(lick.whole)
    taken = fingers_from(with_fingers(whole, _fingers(lick.whole, whole, options)), written)
    return taken | choose_fingers(lick, with_fingers(written, taken), *options.speeds)


def record(studied: Studied, stem: str, options: Options) -> tuple[list[Recording], dict[str, bytes]]:
    """The recordings from slow to full, and their WAV files by the ending of their name."""
    lick, performance, rate_hz = studied.lick, studied.performance, options.rate_hz
    bank = {sound: bank_samples(sound, rate_hz, options.own_bank) for sound in sounds_needed(performance, lick.capo)}
    info = {"title": lick.title, "rights": lick.rights, "software": SOFTWARE}
    recordings, wavs = [], {}
    for name, share in zip(TEMPO_NAMES, lick.tempos, strict=True):
        tempo = share * lick.quarters_per_minute
        levelled = level(mix(performance, lick.capo, bank, tempo, rate_hz), rate_hz, options.loudness_lufs)
        recordings.append(Recording(name, tempo, f"{stem}-{name}.wav", levelled.open_gain))
        wavs[f"-{name}.wav"] = wav_bytes(to_int16(levelled.samples), rate_hz, info)
    return recordings, wavs


@cache
def bank_samples(sound: BankNote, rate_hz: int, own: OwnBank = NO_OWN_BANK) -> np.ndarray:
    """Made once a run and shared by all licks: from the teacher's own recordings, or rendered."""
    recorded = own_note(sound, rate_hz, own) if own.files else None
    return render_note(sound, rate_hz) if recorded is None else recorded


def bank_scripts(names: Iterable[str], options: Options) -> Iterator[tuple[str, str]]:
    """(name, script) of each named bank note."""
    for name in names:
        samples = bank_samples(BankNote.from_name(name), options.rate_hz, options.own_bank)
        yield name, note_script(name, samples, options.rate_hz)


def tuner_sounds(strings: Sequence[OpenString], options: Options) -> dict[str, bytes]:
    """File name -> content: of each string its steady tone and its pluck, as a recording and as a script."""
    rate_hz, lufs = options.rate_hz, options.loudness_lufs
    loops = {string.tone: (string.pitch_words, steady_tone(frequency_hz(string.midi), rate_hz, lufs)) for string in strings}
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


def _facts(studied: Studied, ending: Studied | None) -> Facts:
    """The bank notes are those of the lick and of its mended ending."""
    findings = studied.findings
    performances = [one.performance for one in (studied, ending) if one]
    names = dict.fromkeys(sound.name for one in performances for sound in sounds_needed(one, studied.lick.capo))
    return Facts(findings.rolls, findings.loop, findings.loop_with_exit, tuple(names), findings.half_rolls,
                 findings.repeats, findings.seams, findings.left, findings.harmony)



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


def fit_licks(request: FitRequest, fits: Fits, licks: Sequence[Lick], options: Options) -> tuple[Lick, ...]:
    """Each of the best chains put together."""
    by_id = {lick.id or "": lick for lick in licks}
    return tuple(link_up(as_chain(fit, request, by_id), *options.speeds).lick for fit in fits.best)


def repaired_ending(lick: Lick, options: Options) -> Lick | None:
    """The bar that the smallest repair of the lick's loop changes, as it is then; None where none is needed or found."""
    offers = loop_repairs(lick, False, *options.speeds)
    if not offers:
        return None
    before, made = settled(lick, *options.speeds), offers[0].before
    touched = [new.number for old, new in zip(before.bars, made.bars, strict=True) if old != new]
    part = show(made, Showing(lick.id or "", bars=(touched[0], touched[0])))
    return replace(part, title=f"{offers[0].says[:1].upper()}{offers[0].says[1:]}", labels=())


def mended_seams(lick: Lick, options: Options) -> dict[int, Lick]:
    """Number of the link before the seam -> the bars on both sides, with the smallest repair made; of a chain's seams that
    are not clean and can be mended."""
    found = {}
    for seam_found in link_up(lick.chain, *options.speeds).seams if lick.chain else ():
        if seam_found.join.repairs:
            offer = seam_found.join.repairs[0]
            links = list(lick.chain.links)
            links[seam_found.link] = replace(links[seam_found.link], repair=offer.name)
            made = link_up(replace(lick.chain, links=tuple(links)), *options.speeds).lick
            first = made.links[seam_found.link + 1].first[0]
            part = show(made, Showing(lick.id or "", bars=(max(first - 1, made.bars[0].number), first)))
            found[seam_found.link] = replace(part, title=f"{offer.says[:1].upper()}{offer.says[1:]}", labels=())
    return found


def in_context(lick: Lick, before: Lick | None, options: Options) -> Lick | None:
    """The lick after the one it is meant to follow, or after a bar of the chord; None where the two can't be chained."""
    if before is None and not is_chord(lick.after):
        return None
    lead = before if before is not None else vamp(lick.after, lick)
    if differences(lead, lick) or not seam(lead, lick, None, None, *options.speeds).has_room:
        return None
    named = lead.title or lick.after
    chain = Chain((Link(lead), Link(lick)), title=f"{lick.title}, after {named}", key=lick.key, tempo=lick.tempo,
                  tempos=lick.tempos, bounce=lick.bounce, rights=lick.rights)
    return link_up(chain, *options.speeds).lick
