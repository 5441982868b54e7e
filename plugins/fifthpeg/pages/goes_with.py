"""The page that says of the whole library what goes with what: first licks in rows, next ones in columns.

A small library has a cell for each pair. In a larger one a table of pairs would serve nobody and weigh more than the
course: there a cell stands for all licks of a role, and leads to the list on the page of the first.
"""

from collections.abc import Callable, Mapping, Sequence

from ..model.findings import CLASH, CLEAN, TIGHT
from ..model.lick import ROLES
from .addresses import GOES_WITH_PAGE, GOES_WITH_STYLE_FILE, lick_to_lick, page_url, relative
from .company import VERDICTS, Company
from .figure import title_of
from .filters import Filter, form, row_data, row_rules, while_chosen
from .harmony_words import chords
from .html import text
from .nav import GOES_WITH_TITLE, ROLE_HEADINGS
from .neighbours_section import FOLLOWING_ID, seam_id
from .published import Published

MOST_IN_PAIRS = 64
"""Licks of a library whose pairs have a cell each: 4,096 of them."""
APART = "apart"
FIRST_AND_NEXT = "The lick in the row comes first, the one in the column next."
FIRST_AND_ROLE = "The lick in the row comes first; a column has all licks of one role that may come next."
HOW_JUDGED = ("Each seam is judged at the full tempo of the first, without its exit. A cell leads to what there is "
              "to say of it: which finger, how fast, and what would mend it.")
LEGEND = (
    (CLEAN, "no right-hand finger picks twice in a row at the seam"),
    (TIGHT, "a finger picks twice in a row, in time at this tempo, but not much above it"),
    (CLASH, "a finger would have to pick twice in a row too fast"),
    (APART, "another meter, slot, tuning or capo, or a pick-up that finds no room: not in one chain"),
)


def goes_with_markdown(company: Company, directory_urls: bool) -> str:
    start = page_url(GOES_WITH_PAGE, directory_urls)
    in_pairs = is_in_pairs(company)
    table = _pairs(company, directory_urls) if in_pairs else _by_role(company, directory_urls)
    how = FIRST_AND_NEXT if in_pairs else FIRST_AND_ROLE
    legend = "".join(f'<li><span class="fp-{word}">{word}</span>: {says}</li>' for word, says in LEGEND)
    return (
        f'# {GOES_WITH_TITLE}\n\n{how} {HOW_JUDGED}\n\n<div class="fp-pairs" data-search-exclude>\n'
        f'<link rel="stylesheet" href="{relative(GOES_WITH_STYLE_FILE, start)}">\n'
        f'<ul class="fp-legend">{legend}</ul>\n{form((*_first_filters(company), *_next_filters(company)))}\n'
        f'<div class="fp-scroll" tabindex="0" role="region" aria-label="{GOES_WITH_TITLE}, a table">\n'
        f"{table}\n</div>\n</div>\n"
    )


def goes_with_style(company: Company) -> str:
    rules = row_rules("fp-pairs", ".fp-table tbody tr", _first_filters(company))
    return rules + "".join(_column_rule(company, each, number) for each in _next_filters(company)
                           for number in range(1, len(each.values) + 1))


def is_in_pairs(company: Company) -> bool:
    return len(company.tabs) <= MOST_IN_PAIRS


def _first_filters(company: Company) -> tuple[Filter, ...]:
    return Filter("first-role", "First: role", _roles(company)), Filter("first-over", "First: over", _chords(company))


def _next_filters(company: Company) -> tuple[Filter, ...]:
    if not is_in_pairs(company):
        return ()
    return Filter("next-role", "Next: role", _roles(company)), Filter("next-over", "Next: over", _chords(company))


def _roles(company: Company) -> tuple[str, ...]:
    found = {tab.lick.role for tab in company.tabs}
    return tuple(role for role in ROLES if role in found)


def _chords(company: Company) -> tuple[str, ...]:
    return tuple(sorted({chord for tab in company.tabs for chord in chords(tab)}))


def _column_rule(company: Company, each: Filter, number: int) -> str:
    """Columns have no attributes of their own in every cell, but a number: the first holds the heads of the rows."""
    value = each.values[number - 1]
    hidden = [f":nth-child({place})" for place, tab in enumerate(company.tabs, 2)
              if value not in ((tab.lick.role,) if each.name == "next-role" else chords(tab))]
    if not hidden:
        return ""
    return f"{while_chosen('fp-pairs', each, number)} .fp-table tr > :is({', '.join(hidden)}) {{ display: none; }}\n"


def _pairs(company: Company, directory_urls: bool) -> str:
    return _table(company, [title_of(tab.lick) for tab in company.tabs], directory_urls,
                  lambda before: [_pair(company, before, after, directory_urls) for after in company.tabs])


def _pair(company: Company, before: Published, after: Published, directory_urls: bool) -> str:
    first, following = before.lick.id or "", after.lick.id or ""
    verdict = company.neighbours.verdict(first, following)
    if verdict is None:
        return f'<td class="fp-{APART}">{APART}</td>'
    url = f"{lick_to_lick(first, directory_urls)}#{seam_id(following)}"
    return f'<td class="fp-{verdict}"><a href="{url}">{verdict}</a></td>'


def _by_role(company: Company, directory_urls: bool) -> str:
    roles = _roles(company)

    def cells(before: Published) -> list[str]:
        url = f"{lick_to_lick(before.lick.id or '', directory_urls)}#{FOLLOWING_ID}"
        return [_counts(counts, url) for counts in company.counts_by_role(before, roles)]

    return _table(company, [ROLE_HEADINGS[role] for role in roles], directory_urls, cells)


def _counts(counts: Mapping[str | None, int], url: str) -> str:
    said = ", ".join(f"{counts[verdict]} {verdict}" for verdict in VERDICTS if counts[verdict])
    return f'<td><a href="{url}">{said}</a></td>' if said else f'<td class="fp-{APART}">{APART}</td>'


def _table(company: Company, columns: Sequence[str], directory_urls: bool,
           cells: Callable[[Published], Sequence[str]]) -> str:
    filters = _first_filters(company)
    heads = "".join(f'<th scope="col">{text(column)}</th>' for column in columns)
    rows = "\n".join(
        f'<tr {row_data(filters, {"first-role": (tab.lick.role,), "first-over": chords(tab)})}><th scope="row">'
        f'<a href="{lick_to_lick(tab.lick.id or "", directory_urls)}">{text(title_of(tab.lick))}</a></th>'
        f'{"".join(cells(tab))}</tr>' for tab in company.tabs)
    return (f'<table class="fp-table">\n<thead><tr><th scope="col">First</th>{heads}</tr></thead>\n'
            f"<tbody>\n{rows}\n</tbody>\n</table>")
