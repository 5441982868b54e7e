"""What a Markdown page is called, as far as its text says."""

import re

_FRONT_MATTER_TITLE = re.compile(r"\A\ufeff?---[ \t]*\r?\n(?:(?!---).*\n)*?title:[ \t]*(?P<title>.+?)[ \t]*\r?\n")
_HEADING = re.compile(r"^#[ \t]+(?P<title>.+?)[ \t]*#*[ \t]*(?:\{[^}]*\}[ \t]*)?$", re.MULTILINE)
_MARKUP = re.compile(r"[*_`]|\[(?P<words>[^\]]*)\]\([^)]*\)")
_QUOTED = re.compile(r"(?P<quote>[\"'])(?P<words>.*)(?P=quote)\Z")


def title_in(page_text: str, otherwise: str) -> str:
    """The title in the front matter, else the first heading, else ``otherwise``."""
    match = _FRONT_MATTER_TITLE.match(page_text)
    if match:
        quoted = _QUOTED.match(match["title"])
        return quoted["words"] if quoted else match["title"]
    match = _HEADING.search(page_text)
    return _MARKUP.sub(lambda found: found["words"] or "", match["title"]) if match else otherwise
