"""The line on paper that says where a page stands in the web."""

from .html import text

ARTICLE_END = "</article>"


def with_online_line(page_html: str, address: str) -> str:
    """The page with its address at the end of its text, for print only; unchanged where there is no address."""
    if not address:
        return page_html
    before, end, after = page_html.rpartition(ARTICLE_END)
    return f'{before}<p class="fp-online">Online: {text(address)}</p>{end}{after}' if end else page_html
