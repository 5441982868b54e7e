"""A small page with tabs, as a site has them, in a folder of its own: for trying the player alone."""

import json
import shutil
from dataclasses import dataclass
from html import escape
from pathlib import Path

import fifthpeg
from fifthpeg.exports.note_script import note_script
from fifthpeg.exports.player_data import player_data
from fifthpeg.model.backing import Stem
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import Note
from fifthpeg.model.performance import Performance
from fifthpeg.pages.assets import SCRIPTS
from fifthpeg.reading.fences import find_fences
from fifthpeg.reading.parse import parse
from fifthpeg.sound.backing import arrange
from fifthpeg.sound.backing_sounds import render_backing
from fifthpeg.sound.mix import sounds_needed
from fifthpeg.sound.perform import perform
from fifthpeg.sound.render import RATE_HZ, render_bank
from fifthpeg.sound.stems import backing_sounds_needed

ASSETS = Path(fifthpeg.__file__).parent / "assets"
STYLES = ("player.css", "folds.css", "practice.css")
NOTE_PX = 34
GAIN = 0.8

WEIR_RUN = """
id: weir-run
title: Weir run
tempo: 208
---
[D7] M1:4=4 I2:3 T3:2 M1 T4 I3:2 M1 T4 | I3:2=1 T4:4=3 - I3 T4:4 I3:2 T3:5=4 -
"""
SLUICE_TAG = """
id: sluice-tag
title: Sluice tag
tempo: 208
---
[G] I2+M1 - T3:2=2h3=3 I2 M1 T5 I2:3p0 M1 | T3:2s4 M1 T5 I3 M1:10b1r - T4:0h2=2 M1:3~! | T3 - T5+M1 - . - T5+M1 -
"""


@dataclass(frozen=True)
class Tab:
    lick: Lick
    performance: Performance
    data: dict
    stems: tuple[Stem, ...] = ()


def tab_of(source: str, backing_gain: float | None = None) -> Tab:
    """A block's text, read and performed, with what the player is told about it; without its backing unless that has a gain."""
    (block,) = find_fences(f"```tab\n{source.strip()}\n```\n", "page.md").blocks
    read = parse(block)
    assert read.problems == ()
    performance = perform(read.lick, {})
    stems = () if backing_gain is None else arrange(read.lick, performance)
    return Tab(read.lick, performance, player_data(read.lick, performance, RATE_HZ, GAIN, stems, backing_gain or 1.0), stems)


def write_page(folder: Path, *tabs: Tab, extra_head: str = "") -> Path:
    """index.html with its scripts and a note bank; gives the page's path."""
    bank = folder / "media" / "bank" / "abc"
    bank.mkdir(parents=True)
    for name in (*SCRIPTS, *STYLES):
        shutil.copy(ASSETS / name, folder / name)
    needed = {sound for tab in tabs for sound in sounds_needed(tab.performance, tab.lick.capo)}
    sounds = render_bank(needed)
    sounds |= {sound: render_backing(sound, RATE_HZ) for tab in tabs for sound in backing_sounds_needed(tab.stems)}
    for sound, samples in sounds.items():
        (bank / f"{sound.name}.js").write_text(note_script(sound.name, samples, RATE_HZ))
    scripts = "".join(f'<script src="{name}"></script>' for name in SCRIPTS)
    page = folder / "index.html"
    page.write_text(
        '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Tabs</title>'
        '<meta name="viewport" content="width=device-width"><link rel="icon" href="data:,">'
        + "".join(f'<link rel="stylesheet" href="{name}">' for name in STYLES)
        + "<style>.fp-halo { fill: none } [data-sounding] .fp-halo "
        f"{{ fill: gold }} .fp-bar {{ max-width: 100% }}</style>{extra_head}</head><body><main>"
        + "".join(map(figure_of, tabs)) + f"</main>{scripts}</body></html>")
    return page


def figure_of(tab: Tab) -> str:
    title = escape(tab.lick.title)
    audio = "".join(f'<div><span>{name}</span><audio controls preload="none" aria-label="{name}" src="{name}.wav">'
                    "</audio></div>" for name in ("Slow", "Medium", "Full"))
    return (
        f'<figure class="fp-tab" id="{tab.lick.id}" data-fp-bank="media/bank/abc/">'
        f'<figcaption class="fp-caption"><a href="#{tab.lick.id}">{title}</a> · key of G</figcaption>'
        f'<div class="fp-drawing" role="img" aria-label="Tab of {title}">{_drawing(tab.performance.notes)}</div>'
        f'<div class="fp-player" hidden></div><div class="fp-folds">'
        f'<details class="fp-fold fp-heard"><summary>Recordings</summary><div class="fp-recordings">{audio}</div></details>'
        '<details class="fp-fold" open><summary>Files to keep</summary>'
        '<ul class="fp-downloads"><li><a href="x.mid" download>MIDI</a></li></ul></details></div>'
        f'<script type="application/json" class="fp-data">{json.dumps(tab.data)}</script></figure>')


def _drawing(notes: tuple[Note, ...]) -> str:
    """Numbers on five rows, a bar to a drawing: enough to light and to press."""
    bars: dict[int, list[Note]] = {}
    for note in {note.mark: note for note in notes}.values():
        bars.setdefault(note.bar, []).append(note)
    return "".join(_bar(bar) for bar in bars.values())


def _bar(notes: list[Note]) -> str:
    groups = "".join(
        f'<g class="fp-note" data-mark="{note.mark}"><rect class="fp-halo" x="{NOTE_PX * i}" y="{18 * note.string - 14}"'
        f' width="18" height="18"/><text x="{NOTE_PX * i + 5}" y="{18 * note.string}">{note.fret}</text></g>'
        for i, note in enumerate(notes))
    return f'<svg class="fp-bar" data-bar="{notes[0].bar}" width="{NOTE_PX * len(notes)}" height="100">{groups}</svg>'
