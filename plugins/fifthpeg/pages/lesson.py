"""What a lesson's front matter says, shown: level, what comes first, what it is about; and all techniques."""

import posixpath
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote

from .addresses import TECHNIQUES_PAGE
from .html import markdown_text

HIGHEST_LEVEL = 3
_HEADING = re.compile(r"^#[ \t]+\S.*$", re.MULTILINE)
_FENCE = re.compile(r"^[ \t]*(?:```|~~~)", re.MULTILINE)
_NO_LETTER = re.compile(r"[^a-z0-9]+")
EMPTY = "No lesson names a technique yet: `techniques: [pinch, ending]` in its front matter brings it here."


@dataclass(frozen=True)
class Lesson:
    """``source`` is its file, from the folder of the pages; the rest is its front matter."""

    source: str
    title: str
    level: int | None = None
    summary: str = ""
    techniques: tuple[str, ...] = ()


def lesson_head(meta: Mapping[str, Any], source: str, title_of: Callable[[str], str | None]) -> str:
    """Markdown, to stand under the lesson's title; empty where there is nothing to say.

    ``source`` is the lesson's file; ``title_of`` takes another's, from the folder of the pages, and gives None where
    there is none.
    """
    summary = f"*{markdown_text(meta['summary'])}*\n\n" if meta.get("summary") else ""
    lines = [f"- **{name}:** {said}\n" for name, said in _said(meta, source, title_of) if said]
    return summary + "".join(lines) + "\n" if lines else summary


def with_lesson_head(markdown: str, head: str) -> str:
    """The page with ``head`` under its first heading, or at the top where it has none before its first block."""
    heading, fence = _HEADING.search(markdown), _FENCE.search(markdown)
    if not head or not heading or (fence and fence.start() < heading.start()):
        return f"{head}{markdown}"
    return f"{markdown[:heading.end()]}\n\n{head.rstrip()}\n{markdown[heading.end():]}"


def techniques_markdown(lessons: Sequence[Lesson]) -> str:
    """The page of all techniques, each with its lessons from the easiest on. Spellings that differ in capitals and
    hyphens count as one."""
    by_technique: dict[str, list[tuple[str, Lesson]]] = {}
    for lesson in lessons:
        for technique in dict.fromkeys(lesson.techniques):
            by_technique.setdefault(technique_id(technique), []).append((technique, lesson))
    if not by_technique:
        return f"# Techniques\n\n{EMPTY}\n"
    return "# Techniques\n\n" + "\n".join(_technique(slug, by_technique[slug]) for slug in sorted(by_technique))


def technique_id(technique: str) -> str:
    """``technique.pull-off``: with a dot, which no heading's id has."""
    return "technique." + (_NO_LETTER.sub("-", technique.casefold()).strip("-") or "other")


def _said(meta: Mapping[str, Any], source: str, title_of: Callable[[str], str | None]) -> list[tuple[str, str]]:
    up = "../" * source.count("/")
    techniques = [f"[{markdown_text(name)}]({up}{TECHNIQUES_PAGE}#{technique_id(name)})"
                  for name in meta.get("techniques") or ()]
    return [
        ("Level", f"{meta['level']} of {HIGHEST_LEVEL}" if meta.get("level") else ""),
        ("Before this one", ", ".join(_needed(name, source, title_of) for name in meta.get("needs") or ())),
        ("Techniques", ", ".join(techniques)),
    ]


def _needed(name: str, source: str, title_of: Callable[[str], str | None]) -> str:
    """A link to another lesson; one that is not there is linked all the same, so that the build says so."""
    path = posixpath.normpath(posixpath.join(posixpath.dirname(source), name))
    return f"[{markdown_text(title_of(path) or name)}]({quote(name)})"


def _technique(slug: str, found: Sequence[tuple[str, Lesson]]) -> str:
    name = found[0][0]
    ranked = sorted((lesson for _, lesson in found),
                    key=lambda lesson: (lesson.level or HIGHEST_LEVEL + 1, lesson.source))
    return (f'## <span id="{slug}"></span>{markdown_text(name[:1].upper() + name[1:])}\n\n'
            + "".join(f"- {_lesson(lesson)}\n" for lesson in dict.fromkeys(ranked)))


def _lesson(lesson: Lesson) -> str:
    level = f", level {lesson.level}" if lesson.level else ""
    summary = f": {markdown_text(lesson.summary)}" if lesson.summary else ""
    return f"[{markdown_text(lesson.title)}]({quote(lesson.source)}){level}{summary}"
