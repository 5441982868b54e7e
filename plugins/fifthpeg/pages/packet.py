"""The packet: lessons on one printable page, cut out of a built site and freed of all that paper can't do."""

import posixpath
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import unquote

from .html import text

HAND_KEY = ("Letters under the tab are the right hand: <b>T</b> thumb, <b>I</b> index, <b>M</b> middle. Small figures in "
            "rings are the left hand: 1 index, 2 middle, 3 ring, 4 little finger. The five lines are the strings, the short fifth "
            "at the bottom; a figure on a line is a fret, 0 the open string. The small figure over a barline counts the bars.")
CARE = ("Rest five minutes in every half hour, keep the volume kind to your ears, and stop where it hurts. Pain, numbness or ringing "
        "ears that come back are matters for a doctor, a physiotherapist or an audiologist.")
_ARTICLE = re.compile(r"<article\b[^>]*>(.*?)</article>", re.DOTALL)
_FOLDS = re.compile(r'<div class="fp-player" hidden></div><div class="fp-folds">.*?(?=<script type="application/json" class="fp-data">)',
                    re.DOTALL)
_SCRIPT = re.compile(r"<script\b.*?</script>|<noscript\b.*?</noscript>", re.DOTALL)
_HEADER_LINK = re.compile(r'<a class="headerlink".*?</a>', re.DOTALL)
_SAID = re.compile(r'<p id="[^"]*-in-words" hidden>(.*?)</p>', re.DOTALL)
_CHOICE = re.compile(r"<input\b[^>]*>")
_ID = re.compile(r' (?:id|for|aria-describedby|data-fp-bank)="[^"]*"')
_DETAILS = re.compile(r"<details\b[^>]*>")
_ONLINE_LINE = re.compile(r'<p class="fp-online">.*?</p>', re.DOTALL)
_LINK = re.compile(r'<a\b[^>]*?href="(?P<to>[^"]*)"[^>]*>(?P<words>.*?)</a>', re.DOTALL)
_OUTSIDE = re.compile(r"https?:|mailto:")


@dataclass(frozen=True)
class PacketLesson:
    """``url`` in the site it was cut from; ``page`` is that page's HTML; ``online`` its address in the web, or empty."""

    title: str
    url: str
    page: str
    online: str = ""


def packet_html(course: str, lessons: Sequence[PacketLesson], style: str, day: str = "", words: bool = False) -> str:
    """One page that needs no other file. ``words``: each tab is followed by its reading in words."""
    places = {lesson.url: f"lesson-{number}" for number, lesson in enumerate(lessons, 1)}
    entries = "\n".join(f'<li><a href="#{places[lesson.url]}">{text(lesson.title)}</a></li>' for lesson in lessons)
    bodies = "\n".join(_lesson(lesson, places, words) for lesson in lessons)
    dated = f"<p>As of {text(day)}.</p>" if day else ""
    return (
        f'<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n<title>{text(course)}: packet</title>\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n<link rel="icon" href="data:,">\n'
        f"<style>\n{style}\n</style>\n</head>\n<body>\n<header>\n<h1>{text(course)}</h1>\n{dated}\n"
        f'<ol class="fp-packet-list">\n{entries}\n</ol>\n<h2>The hands</h2>\n<p>{HAND_KEY}</p>\n<p>{CARE}</p>\n</header>\n'
        f"<main>\n{bodies}\n</main>\n</body>\n</html>\n")


def _lesson(lesson: PacketLesson, places: Mapping[str, str], words: bool) -> str:
    online = f'<p class="fp-online">Online: {text(lesson.online)}</p>' if lesson.online else ""
    return (f'<article class="fp-packet-lesson md-typeset" id="{places[lesson.url]}">{_for_paper(lesson, places, words)}'
            f"{online}</article>")


def _for_paper(lesson: PacketLesson, places: Mapping[str, str], words: bool) -> str:
    found = _ARTICLE.search(lesson.page)
    body = found[1] if found else ""
    for needless in (_FOLDS, _SCRIPT, _HEADER_LINK, _CHOICE, _ONLINE_LINE):
        body = needless.sub("", body)
    body = _SAID.sub(r'<p class="fp-said">\1</p>' if words else "", body)
    body = _DETAILS.sub("<details open>", _ID.sub("", body))
    return _LINK.sub(lambda link: _led(link, lesson.url, places), body)


def _led(link: re.Match[str], url: str, places: Mapping[str, str]) -> str:
    """Into the packet where the page is in it, else its words; an address of the web is said as well."""
    to, words = link["to"], link["words"]
    if _OUTSIDE.match(to):
        return f'<a href="{to}">{words}</a>' + (f" ({to})" if to not in words else "")
    leads_to = posixpath.normpath(posixpath.join(posixpath.dirname(url), unquote(to.partition("#")[0])))
    return f'<a href="#{places[leads_to]}">{words}</a>' if leads_to in places else f'<span class="fp-led">{words}</span>'
