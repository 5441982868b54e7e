"""One page, whole in itself, on how the bank sounds: pictures, figures, and what has changed since an earlier one.

Its figures lie in it as JSON, so that a later report can be held against it.
"""

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..model.sound_figures import QUANTITIES, Change, SoundFigures, as_plain, changes, from_plain
from .html import script_data, text

SCHEMA = 1
CHANGE_HEADS = ("Figure", "Notes changed", "On average by", "Most changed", "Before", "After")
_FIGURES = re.compile(r'<script type="application/json" id="figures">(.*?)</script>', re.DOTALL)
HOW = ("Off pitch: the first partial against equal temperament at A4 = 440 Hz. −10 dB and −20 dB after: when the energy "
       "still to come is so much less than at the start. Level: K-weighted (ITU-R BS.1770), over the first 0.3 seconds, "
       "below full scale. Spectral centre: each frequency by its amplitude, over the same time; higher is brighter.")
STYLE = """
:root { color-scheme: light dark; --ink: #22201c; --paper: #fbfaf7; --rule: #b9b4a8; }
@media (prefers-color-scheme: dark) { :root { --ink: #e6e1d6; --paper: #1f1d1a; --rule: #5f5a50; } }
body { margin: 0 auto; padding: 1em; max-width: 64em; background: var(--paper); color: var(--ink); font: 1em/1.5 system-ui, sans-serif; }
h1, h2 { line-height: 1.2; }
h2 { margin-top: 2em; padding-top: .4em; border-top: 1px solid var(--rule); }
a { color: inherit; }
nav ul { display: flex; flex-wrap: wrap; gap: .2em 1.2em; padding: 0; list-style: none; }
nav a { display: inline-block; min-height: 1.75em; }
figure { margin: 1em 0; }
.wide { overflow-x: auto; }
.wide:focus-visible { outline: 3px solid var(--ink); outline-offset: 2px; }
svg { display: block; width: 100%; max-width: 60em; height: auto; min-width: 32em; }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; }
th, td { padding: .2em .8em .2em 0; border-bottom: 1px solid var(--rule); text-align: end; white-space: nowrap; }
th:first-child { text-align: start; }
tbody th { font-weight: 400; }
thead th { vertical-align: bottom; white-space: normal; }
thead th:not(:first-child) { min-width: 4.5em; }
"""


@dataclass(frozen=True)
class ReportedNote:
    """``name`` is the bank's, ``words`` how a table calls it within its part."""

    name: str
    words: str
    figures: SoundFigures


@dataclass(frozen=True)
class Picture:
    """``svg`` is drawn in the page's ink; ``says`` tells what it shows to who can't see it."""

    svg: str
    says: str


@dataclass(frozen=True)
class ReportPart:
    """A string, or the touches."""

    title: str
    notes: tuple[ReportedNote, ...]
    pictures: tuple[Picture, ...]


@dataclass(frozen=True)
class SoundReport:
    """``made_of`` says in a sentence which bank, program and rate these are; ``overview`` are charts over all parts."""

    made_of: str
    overview: tuple[Picture, ...]
    parts: tuple[ReportPart, ...]

    @property
    def figures(self) -> dict[str, SoundFigures]:
        """By the names of the notes, rounded as they are kept: a report held against itself then differs in none."""
        return from_plain(as_plain({note.name: note.figures for part in self.parts for note in part.notes}))


def earlier_figures(earlier: str) -> dict[str, SoundFigures]:
    """The figures in an earlier report's page, or in the JSON out of one. Raises ValueError where there are none."""
    found = _FIGURES.search(earlier)
    try:
        kept = json.loads(found[1] if found else earlier)
        if kept["schema"] != SCHEMA:
            raise ValueError("it is a report of another kind")
        return from_plain(kept["notes"])
    except (TypeError, KeyError, json.JSONDecodeError) as error:
        raise ValueError("there are no figures of a sound report in it") from error


def report_html(report: SoundReport, before: Mapping[str, SoundFigures] | None = None) -> str:
    """``before``: the figures it is to be held against."""
    parts = [("overview", "Over the neck", "".join(map(_figure, report.overview)))]
    parts += [(f"part-{number}", part.title, _part(part)) for number, part in enumerate(report.parts, start=1)]
    if before is not None:
        parts.insert(0, ("changes", "What has changed", _changed(changes(before, report.figures), before, report.figures)))
    links = "".join(f'<li><a href="#{anchor}">{text(title)}</a></li>' for anchor, title, _ in parts)
    body = "".join(f'<section aria-labelledby="{anchor}"><h2 id="{anchor}">{text(title)}</h2>{content}</section>'
                   for anchor, title, content in parts)
    data = script_data({"schema": SCHEMA, "made_of": report.made_of, "notes": as_plain(report.figures)})
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>How the bank sounds</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="icon" href="data:,">'
        f"<style>{STYLE}</style></head>\n<body><main><h1>How the bank sounds</h1><p>{text(report.made_of)}</p>"
        f"<p>{text(_summary(report.figures))}</p><p>{HOW}</p>"
        f'<nav aria-label="Parts of the report"><ul>{links}</ul></nav>\n'
        f'{body}</main><script type="application/json" id="figures">{data}</script></body></html>\n')


def _summary(figures: Mapping[str, SoundFigures]) -> str:
    off = {name: abs(one.cents) for name, one in figures.items() if one.cents is not None}
    farthest = max(off, key=lambda name: off[name])
    return f"{len(figures)} notes; the farthest from its pitch is {farthest}, by {off[farthest]:.3f} cents."


def _part(part: ReportPart) -> str:
    return "".join(map(_figure, part.pictures)) + _table(
        f"{part.title}: figures", ["Note", *(each.label for each in QUANTITIES)],
        [[note.words, *(each.said(getattr(note.figures, each.name)) for each in QUANTITIES)] for note in part.notes])


def _figure(picture: Picture) -> str:
    drawn = picture.svg.replace("<svg", '<svg aria-hidden="true"', 1)
    return f'<figure class="wide" tabindex="0" role="region" aria-label="{text(picture.says)}">{drawn}</figure>'


def _changed(found: Sequence[Change], before: Mapping[str, SoundFigures], after: Mapping[str, SoundFigures]) -> str:
    said = ["" if found else "No figure has changed."]
    for these, others, words in ((after, before, "new here"), (before, after, "no longer here")):
        only = [name for name in these if name not in others]
        said += [f"{words}: {', '.join(only)}."] if only else []
    lines = "".join(f"<p>{text(line)}</p>" for line in said if line)
    return lines + _table("What has changed", CHANGE_HEADS, [_change(change) for change in found]) if found else lines


def _change(change: Change) -> list[str]:
    said = change.quantity.said
    return [change.quantity.label, str(change.notes), said(change.mean), change.most, said(change.before), said(change.after)]


def _table(name: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    head = "".join(f'<th scope="col">{text(each)}</th>' for each in heads)
    body = "".join(f'<tr><th scope="row">{text(row[0])}</th>{"".join(f"<td>{text(cell)}</td>" for cell in row[1:])}</tr>\n'
                   for row in rows)
    return (f'<div class="wide" tabindex="0" role="region" aria-label="{text(name)}"><table>\n<thead><tr>{head}</tr></thead>'
            f"<tbody>\n{body}</tbody></table></div>")
