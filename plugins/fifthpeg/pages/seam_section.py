"""The seams of a chain on its own page: each in words, with the repair made or those on offer, and how it loops."""

from collections.abc import Mapping

from ..model.findings import CLEAN, Join, Repair, Seam
from . import hands_words
from .extras import heard_fold, repaired_seam_spot
from .html import link, text
from .places import place
from .published import Published
from .slots import Spot

LOOPED = "It is meant to be looped."


def seam_section(tab: Published, urls: Mapping[str, str], extras: Mapping[Spot, Published]) -> str:
    """Markdown; nothing where there is no seam. ``urls`` are the links' pages by id, as seen from this page."""
    seams = tab.facts.seams
    if not seams:
        return ""
    folds = [heard_fold(repaired_seam_spot(tab.lick.id or "", seam.link), extras) for seam in seams]
    items = "\n".join(f"<li>{_seam(tab, seam, urls)}{fold}</li>" for seam, fold in zip(seams, folds, strict=True))
    looped = f"\n<p>{LOOPED}</p>" if tab.lick.chain and tab.lick.chain.loop else ""
    return f'## Seams\n\n<div class="fp-seams">\n<ol>\n{items}\n</ol>{looped}\n</div>\n\n'


def seam_list(tab: Published, urls: Mapping[str, str]) -> str:
    """The same seams where a chain is shown without a page of its own: no headings and no tabs."""
    items = "".join(f"<li>{_seam(tab, seam, urls)}</li>" for seam in tab.facts.seams)
    return f'<ol class="fp-seams">{items}</ol>' if items else ""


def _seam(tab: Published, seam: Seam, urls: Mapping[str, str]) -> str:
    said = f"<p>{_heading(tab, seam, urls)}: {_verdict(seam)}</p>"
    if seam.repair is None:
        return said + offers_to_write(seam.join, seam.from_id)
    return said


def _heading(tab: Published, seam: Seam, urls: Mapping[str, str]) -> str:
    names = {linked.id: linked.title for linked in tab.lick.links}
    before, after = (_name(lick_id, names, urls) for lick_id in (seam.from_id, seam.to_id))
    where = ""
    if seam.link + 1 < len(tab.lick.links):
        where = f", {text(place(tab, *tab.lick.links[seam.link + 1].first))}"
    return f"{before} into {after}{where}"


def _name(lick_id: str, names: Mapping[str, str], urls: Mapping[str, str]) -> str:
    title = names.get(lick_id) or lick_id
    return link(title, urls[lick_id]) if lick_id in urls else text(title)


def _verdict(seam: Seam) -> str:
    said = text(hands_words.join(seam.join))
    if seam.repair is None:
        return said
    without = f" Without it: {text(hands_words.join(seam.unrepaired))}." if seam.unrepaired else ""
    return f"{said}.<br>Mended: {text(hands_words.offer(seam.repair))}{without}"


def offers_to_write(found: Join, link_id: str) -> str:
    """The repairs on offer, each with what to write in the chain's block."""
    if found.verdict == CLEAN:
        return ""
    if not found.repairs:
        return "<p>No small change would mend it.</p>"
    items = "".join(f"<li>{text(hands_words.offer(repair))} Write <code>{text(_written(link_id, repair))}</code> in "
                    "the chain.</li>" for repair in found.repairs)
    return f"<p>Clean with one of these:</p><ul>{items}</ul>"


def _written(link_id: str, repair: Repair) -> str:
    return f"{{id: {link_id}, repair: {repair.name}}}"


def links_said(tab: Published, urls: Mapping[str, str]) -> str:
    """The links of a chain in their order, as HTML."""
    titles = {linked.id: linked.title for linked in tab.lick.links}
    return ", then ".join(_name(linked.id, titles, urls) for linked in tab.lick.links)


def chain_note(tab: Published) -> str:
    """What the catalogue says of a chain beside its title."""
    return ", then ".join(linked.title or linked.id for linked in tab.lick.links)
