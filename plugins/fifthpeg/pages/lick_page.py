"""The page of one lick, as Markdown: its tab, its facts, its hands, where it fits, where it is taught."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from urllib.parse import quote

from ..model.bounce import STRAIGHT
from ..model.findings import Join
from . import hands_words, harmony_words, words
from .extras import IN_CONTEXT, context_spot, heard_fold, repaired_spot
from .figure import title_of
from .html import markdown_text, text
from .published import Published
from .seam_section import links_said, seam_section
from .slots import Spot

FACTS_HEADING = "## About this variant\n\n"
"""Where the parent's tab stands between, it must be said whose facts these are."""
Rows = list[tuple[str, str]]
"""Names and values, the values as HTML."""


@dataclass(frozen=True)
class Surroundings:
    """What a lick's page says beyond the lick. ``after`` says, as HTML, what the lick is meant to follow; ``parent``,
    ``variants`` and ``neighbours`` are sections; ``shown_on`` are (source file, title) of the pages with the lick;
    ``urls`` lead to the links of a chain; ``extras`` are the small tabs there are."""

    shown_on: Sequence[tuple[str, str]] = ()
    after: str = ""
    parent: str = ""
    variants: str = ""
    neighbours: str = ""
    urls: Mapping[str, str] = field(default_factory=dict)
    extras: Mapping[Spot, Published] = field(default_factory=dict)


def lick_page_markdown(tab: Published, slot: str, around: Surroundings) -> str:
    """``slot`` is the placeholder of the drawing."""
    lick_id = tab.lick.id or ""
    mended = heard_fold(repaired_spot(lick_id), around.extras)
    in_context = heard_fold(context_spot(lick_id), around.extras, IN_CONTEXT)
    return (
        f"# {markdown_text(title_of(tab.lick))}\n\n{slot}\n\n{around.parent}{FACTS_HEADING if around.parent else ''}"
        f"{_table(_facts(tab, around))}\n\n{seam_section(tab, around.urls, around.extras)}"
        f"{_section('The hands', _hands(tab), mended)}"
        f"{_section('Where it fits', _fits(tab, around), in_context)}"
        f"{around.neighbours}{around.variants}"
        f"## Where it is taught\n\n{_page_list(around.shown_on)}\n"
    )


def _section(heading: str, rows: Rows, fold: str) -> str:
    """The table is of the kind that ``lifted`` takes out, so that long words on hands cost the build little."""
    if not any(value for _, value in rows):
        return ""
    return f'## {heading}\n\n<div class="fp-told">{_table(rows)}\n</div>\n\n' + (f"{fold}\n\n" if fold else "")


def _table(rows: Rows) -> str:
    """With white space between the cells: a search index that drops the tags would glue their words together."""
    lines = "\n".join(f'<tr><th scope="row">{name}</th> <td>{value}</td></tr>' for name, value in rows if value)
    return f'<table class="fp-facts"><tbody>{lines}</tbody></table>'


def _facts(tab: Published, around: Surroundings) -> Rows:
    lick = tab.lick
    return [
        ("Links", links_said(tab, around.urls)),
        ("Role", text(lick.role)),
        ("Key", text(words.key(lick))),
        ("Length", text(f"{words.bars(lick)} of {lick.meter}")),
        ("Full tempo", text(words.full_tempo(lick))),
        ("Bounce", text(f"{lick.bounce} % of each pair of eighths to the first") if lick.bounce != STRAIGHT else ""),
        ("Tuning", text(words.tuning(lick))),
        ("Exit", text(words.way_out(lick))),
        ("Rolls", text(hands_words.rolls((*tab.facts.rolls, *tab.facts.half_rolls)))),
        ("Labels", text(", ".join(lick.labels))),
        ("Rights", text(lick.rights)),
    ]


def _hands(tab: Published) -> Rows:
    facts = tab.facts
    spans = hands_words.wide_spans(tab)
    return [
        ("Right hand", _list(hands_words.marks(tab)) or text(hands_words.NO_REPEAT)),
        ("Left hand", text(hands_words.positions(tab))),
        ("Wide stretches", f"{_list(spans)} {text(hands_words.CARE)}" if spans else ""),
        ("Looped", _join(facts.loop)),
        ("Looped with its exit", _join(facts.loop_with_exit) if tab.lick.exit_bars else ""),
    ]


def _fits(tab: Published, around: Surroundings) -> Rows:
    return [
        ("Chords", text(harmony_words.over(tab))),
        ("After", around.after),
        ("Notes outside the chord", _list(harmony_words.outside(tab))),
        ("Blue notes of the key", _list(harmony_words.blue_notes(tab))),
        ("Worth a second look", _list(doubt.says for doubt in tab.facts.harmony.doubts)),
    ]


def _list(sayings) -> str:
    """One as it is, several as a list."""
    said = [text(saying[:1].upper() + saying[1:]) for saying in sayings]
    return "".join(said) if len(said) < 2 else "<ul>" + "".join(f"<li>{saying}</li>" for saying in said) + "</ul>"


def _join(found: Join) -> str:
    """The verdict, and what would mend it."""
    offers = "".join(f"<li>{text(offer)}</li>" for offer in hands_words.offers(found))
    mended = f" <br>It would be clean with one of these:<ul>{offers}</ul>" if offers else ""
    return text(hands_words.join(found)) + mended


def _page_list(shown_on: Sequence[tuple[str, str]]) -> str:
    return "\n".join(f"- [{markdown_text(title)}](../{quote(source)})" for source, title in shown_on)
