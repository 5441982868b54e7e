"""What stands on a page in place of a tab that could not be read."""

from collections.abc import Sequence

from .html import text


def problem_box(messages: Sequence[str], source: str = "") -> str:
    """``messages`` are shown as they are, line breaks kept; ``source``, if given, below them."""
    shown = "".join(f"<pre><code>{text(message)}</code></pre>" for message in (*messages, source) if message)
    return f'<div class="fp-problem" role="note">{shown}</div>'
