"""What may come before and after a lick: the sections of its page, and the place where each seam is said in full."""

from collections import Counter
from collections.abc import Sequence

from ..model.findings import CLASH, CLEAN, TIGHT, Join, Repair
from . import hands_words
from .addresses import lick_to_lick
from .company import Company, Others
from .figure import title_of
from .html import text
from .published import Published
from .words import listed

FOLLOWING_ID = "what.follows"
"""Ids with a dot: no heading and no lick can have them."""
SHOWN_AT_ONCE = 8
HOW_THEY_FOLLOW = {CLEAN: "cleanly", TIGHT: "tightly", CLASH: "with a clash"}
NOBODY_FITS = "No lick of this library can stand in one chain with it: all have another meter, slot, tuning or capo."


def seam_id(after_id: str) -> str:
    """Of the place on a lick's page that speaks of its seam with a lick after it."""
    return f"after.{after_id}"


def neighbours_section(company: Company, tab: Published, directory_urls: bool) -> str:
    """Markdown; nothing where nobody has looked."""
    if not company:
        return ""
    after, before = company.after(tab), company.before(tab)
    if not after.joined and not before.joined:
        return f"## What may come before and after\n\n{NOBODY_FITS}\n\n"
    return (f'## What may come after\n\n<div class="fp-goes" id="{FOLLOWING_ID}" data-search-exclude>\n'
            f"{_after(company, tab, after, directory_urls)}\n</div>\n\n"
            '## What may come before\n\n<div class="fp-goes" data-search-exclude>\n'
            f"{_before(tab, before, directory_urls)}\n</div>\n\n")


def _after(company: Company, tab: Published, others: Others, directory_urls: bool) -> str:
    def item(other: Published, more: str = "") -> str:
        return f'<li id="{seam_id(other.lick.id or "")}">{_link(other, directory_urls)}{more}</li>'

    clean = _names([item(other) for other in others.listed[CLEAN]])
    return "\n".join(filter(None, [
        f"<p>{_summary('follow it', others)}</p>", clean, _left_out(others, CLEAN),
        *(_unclean(verdict, others, _groups(company, tab, others.listed[verdict], item))
          for verdict in (TIGHT, CLASH))]))


def _before(tab: Published, others: Others, directory_urls: bool) -> str:
    """What is to be said of a seam is said on the page of the lick before."""
    at = "#" + seam_id(tab.lick.id or "")
    lists = {verdict: [f"<li>{_link(other, directory_urls, '' if verdict == CLEAN else at)}</li>" for other in listed]
             for verdict, listed in others.listed.items()}
    return "\n".join(filter(None, [
        f"<p>{_summary('lead into it', others)}</p>", _names(lists[CLEAN]), _left_out(others, CLEAN),
        *(_unclean(verdict, others, _list(lists[verdict])) for verdict in (TIGHT, CLASH))]))


def _unclean(verdict: str, others: Others, content: str) -> str:
    return _fold(f"{verdict.capitalize()}: {others.counts[verdict]}", content) + _left_out(others, verdict)


def _summary(does: str, others: Others) -> str:
    said = [(others.counts[verdict], how) for verdict, how in HOW_THEY_FOLLOW.items() if others.counts[verdict]]
    if not said:
        return f"None of the licks here can {does}."
    (first, how), *rest = said
    verb = does.replace("follow", "follows").replace("lead", "leads") if first == 1 else does
    words = listed((f"{first} {verb} {how}", *(f"{count} {how}" for count, how in rest)))
    apart = others.counts[None]
    return f"Of the licks here {words}" + (f"; {apart} can't stand in one chain with it." if apart else ".")


def _groups(company: Company, tab: Published, others: Sequence[Published], item) -> str:
    """Licks whose seams the hand feels alike stand together; what mends all of them is said once."""
    joins = [(other, company.neighbours.join(tab.lick.id or "", other.lick.id or "")) for other in others]
    unsaid = _list([item(other) for other, join in joins if join is None])
    said = [(other, join) for other, join in joins if join is not None]
    times = Counter(repair for _, join in said for repair in join.repairs)
    groups: dict[tuple[str, tuple[Repair, ...]], list[tuple[Published, Join]]] = {}
    for other, join in said:
        shared = tuple(repair for repair in join.repairs if times[repair] > 1)
        groups.setdefault((hands_words.join(join), shared), []).append((other, join))
    return "".join(_group(words, shared, members, item) for (words, shared), members in groups.items()) + unsaid


def _group(words: str, shared: Sequence[Repair], members: Sequence[tuple[Published, Join]], item) -> str:
    items = [item(other, _own(join, shared)) for other, join in members]
    return f"<p>{text(hands_words.sentence(words))}</p>{_mending(shared)}{_list(items)}"


def _mending(common: Sequence[Repair]) -> str:
    if not common:
        return ""
    offers = "".join(f"<li>{_offer(repair)}</li>" for repair in common)
    return f"<p>Any one of these mends it for all of:</p><ul>{offers}</ul>"


def _own(join: Join, common: Sequence[Repair]) -> str:
    own = [repair for repair in join.repairs if repair not in common]
    if not own:
        return "" if join.repairs else ": no small change would mend it"
    return "<ul>" + "".join(f"<li>{_offer(repair)}</li>" for repair in own) + "</ul>"


def _offer(repair: Repair) -> str:
    return f"<code>{text(repair.name)}</code>: {text(hands_words.offer(repair))}"


def _link(other: Published, directory_urls: bool, place: str = "") -> str:
    return f'<a href="{lick_to_lick(other.lick.id or "", directory_urls)}{place}">{text(title_of(other.lick))}</a>'


def _names(items: Sequence[str]) -> str:
    """A short list as it is, the rest of a long one folded."""
    shown, rest = items[:SHOWN_AT_ONCE], items[SHOWN_AT_ONCE:]
    return _list(shown) + (_fold(f"{len(rest)} more", _list(rest)) if rest else "")


def _list(items: Sequence[str]) -> str:
    return f'<ul class="fp-names">{"".join(items)}</ul>' if items else ""


def _fold(summary: str, content: str) -> str:
    return f'<details class="fp-fold"><summary>{summary}</summary>{content}</details>' if content else ""


def _left_out(others: Others, verdict: str) -> str:
    """In a very large library."""
    missing = others.counts[verdict] - len(others.listed[verdict])
    return f"<p>And {missing} more {HOW_THEY_FOLLOW[verdict]}, too many to name.</p>" if missing else ""
