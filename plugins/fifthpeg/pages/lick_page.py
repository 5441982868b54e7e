"""The page of one lick, as Markdown: its tab, its facts, where it is taught."""

from collections.abc import Sequence
from urllib.parse import quote

from ..model.findings import Join
from . import words
from .figure import title_of
from .html import markdown_text, text
from .published import Published


FACTS_HEADING = "## About this variant\n\n"
"""Where the parent's tab stands between, it must be said whose facts these are."""


def lick_page_markdown(tab: Published, slot: str, shown_on: Sequence[tuple[str, str]], after: str,
                       parent: str = "", variants: str = "") -> str:
    """``slot`` is the placeholder of the drawing; ``shown_on`` are (source file, title) of the pages with the lick.

    ``after`` says, as HTML, what the lick is meant to follow; ``parent`` and ``variants`` are sections on
    the lick it varies, right under its own tab, and on those that vary it.
    """
    return (
        f"# {markdown_text(title_of(tab.lick))}\n\n{slot}\n\n{parent}{FACTS_HEADING if parent else ''}"
        f"{_facts_table(tab, after)}\n\n{variants}"
        f"## Where it is taught\n\n{_page_list(shown_on)}\n"
    )


def _facts_table(tab: Published, after: str) -> str:
    """With white space between the cells: a search index that drops the tags would glue their words together."""
    rows = "\n".join(f'<tr><th scope="row">{name}</th> <td>{value}</td></tr>'
                     for name, value in _facts(tab, after) if value)
    return f'<table class="fp-facts"><tbody>{rows}</tbody></table>'


def _facts(tab: Published, after: str) -> list[tuple[str, str]]:
    """Names and values, the values as HTML."""
    lick, facts = tab.lick, tab.facts
    return [
        ("Role", text(lick.role)),
        ("Key", text(words.key(lick))),
        ("Length", text(f"{words.bars(lick)} of {lick.meter}")),
        ("Full tempo", text(words.full_tempo(lick))),
        ("Bounce", text(f"{lick.bounce} % of each pair of eighths to the first") if lick.bounce != 50 else ""),
        ("Tuning", text(words.tuning(lick))),
        ("Exit", text(words.way_out(lick))),
        ("After", after),
        ("Rolls", text(words.rolls(facts.rolls))),
        ("Looped", _join(facts.loop)),
        ("Looped with its exit", _join(facts.loop_with_exit) if lick.exit_bars else ""),
        ("Labels", text(", ".join(lick.labels))),
        ("Rights", text(lick.rights)),
    ]


def _join(found: Join) -> str:
    """The verdict, and what would mend it."""
    offers = "".join(f"<li>{text(offer)}</li>" for offer in words.repairs(found))
    mended = f" <br>It would be clean with one of these:<ul>{offers}</ul>" if offers else ""
    return text(words.join(found)) + mended


def _page_list(shown_on: Sequence[tuple[str, str]]) -> str:
    return "\n".join(f"- [{markdown_text(title)}](../{quote(source)})" for source, title in shown_on)
