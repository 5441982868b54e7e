"""Small pieces of HTML and Markdown, escaped."""

import html
import json
import re

_PUNCTUATION = re.compile(r"[!-/:-@\[-`{-~]")


def text(words: str) -> str:
    """Words as HTML text or attribute value."""
    return html.escape(str(words), quote=True)


def markdown_text(words: str) -> str:
    """Words that Markdown leaves alone: every punctuation mark becomes a character reference."""
    return _PUNCTUATION.sub(lambda match: f"&#{ord(match[0])};", " ".join(str(words).split()))


def link(words: str, url: str) -> str:
    return f'<a href="{text(url)}">{text(words)}</a>'


def script_data(data: object) -> str:
    """JSON that can stand inside a script element: no ``<``, so neither ``</script`` nor ``<!--``."""
    return script_json(json.dumps(data, ensure_ascii=False, separators=(",", ":")))


def script_json(json_text: str) -> str:
    return json_text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
