"""The page a student opens first in the offline folder: what is inside and how to open it."""

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import quote

from .html import text

COURSE_FOLDER = "course"
COVER_FILE = "start.html"
LIST_FILE = "files.txt"
STYLE = """
:root { color-scheme: light dark; --ground: #fff; --ink: #1c1c1c; --link: #1a4fa3; }
@media (prefers-color-scheme: dark) { :root { --ground: #17191f; --ink: #e2e4e9; --link: #9bbcf5; } }
html { background: var(--ground); color: var(--ink); }
a { color: var(--link); }
body { max-width: 44rem; margin: 0 auto; padding: 1.5rem 1rem 3rem; font: 1.05rem/1.6 system-ui, sans-serif; }
h1 { margin-bottom: .2em; line-height: 1.2; }
ol, ul { padding-inline-start: 1.4em; }
li { margin: .35em 0; }
li > a { display: inline-block; min-height: 1.6em; }
.open { display: inline-block; margin: .6em 0; padding: .6em 1.2em; border: 2px solid; font-weight: 700; }
@media print { .open { display: none; } }
"""
LIGHT = "This is the light form: it has no recordings as files. The player on the pages plays every tab all the same."
PART = ("This is part of the course: the lessons below, and every lick they need. Links to the other lessons are plain "
        "words.")
HOW = ("Everything works without a network. If you have this as a zip, unpack it first: pages inside a zip can't find "
       "their sounds. Then open <code>start.html</code> by a double click; any recent browser will do.")
KEPT = ("Settings and best tempos stay in the browser you use, on this machine. They do not travel with the folder.")


@dataclass(frozen=True)
class ListedPage:
    """``url`` from the site's root; ``source`` is the file it is made from."""

    title: str
    url: str
    summary: str = ""
    source: str = ""


@dataclass(frozen=True)
class Contents:
    """What a kit holds. ``day`` is ISO 8601, empty where unknown."""

    course: str
    pages: Sequence[ListedPage]
    licks: Sequence[ListedPage]
    size_bytes: int
    file_count: int
    day: str = ""
    light: bool = False
    part: bool = False


def cover_html(contents: Contents) -> str:
    name = text(contents.course)
    home = f"{COURSE_FOLDER}/index.html"
    day = f", as of {text(contents.day)}" if contents.day else ""
    return (
        f'<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n<title>{name}: start here</title>\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n<link rel="icon" href="data:,">\n'
        f"<style>{STYLE}</style>\n</head>\n<body>\n<main>\n<h1>{name}</h1>\n"
        f'<p>{len(contents.pages)} pages and {len(contents.licks)} licks to read, hear and play{day}.</p>\n'
        f'<p><a class="open" href="{home}">Open the course</a></p>\n<h2>How to open it</h2>\n<p>{HOW}</p>\n'
        f"<p>{KEPT}</p>\n{f'<p>{LIGHT}</p>' if contents.light else ''}{f'<p>{PART}</p>' if contents.part else ''}"
        f'<h2>Pages</h2>\n<ol>\n{_list(contents.pages)}\n</ol>\n<h2>Licks</h2>\n<ul>\n{_list(contents.licks)}\n</ul>\n'
        f"<h2>Is it whole?</h2>\n<p>{contents.file_count} files, {size_words(contents.size_bytes)}. "
        f'<a href="{LIST_FILE}">{LIST_FILE}</a> lists them. For whoever looks after the computers: it has the SHA-256 of each, and '
        f"<code>sha256sum -c {LIST_FILE}</code> checks them all.</p>\n</main>\n</body>\n</html>\n")


def size_words(size_bytes: int) -> str:
    """In millions of bytes, as drives are sold."""
    return f"{size_bytes / 1_000_000:.1f} MB"


def _list(pages: Sequence[ListedPage]) -> str:
    return "\n".join(f'<li><a href="{COURSE_FOLDER}/{text(quote(page.url))}">{text(page.title)}</a>'
                     f"{f'<br>{text(page.summary)}' if page.summary else ''}</li>" for page in pages)
