"""What stands on a page in place of a tab that could not be read."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from .html import text

SPOKEN = ("hint:", "see also:")


def problem_box(messages: Sequence[str], source: str = "") -> str:
    """``messages`` word for word, the quoted lines kept as they stand; ``source``, if given, below them."""
    shown = "".join(part for message in messages for part in _parts(message))
    return f'<div class="fp-problem" role="note">{shown}{_kept(source) if source else ""}</div>'


def _parts(message: str) -> Iterator[str]:
    """Sentences may wrap; a quoted line and its caret must not."""
    for spoken, lines in groupby(message.splitlines(), _is_spoken):
        yield "".join(f"<p>{text(line.strip())}</p>" for line in lines) if spoken else _kept("\n".join(lines))


def _is_spoken(line: str) -> bool:
    return not line.startswith(" ") or line.strip().startswith(SPOKEN)


def _kept(lines: str) -> str:
    return f"<pre><code>{text(lines)}</code></pre>"
