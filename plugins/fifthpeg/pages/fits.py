"""What stands in place of a fit block: the chains found that fill the bars, each to read, to hear and to play."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..model.chain import FitRequest
from ..model.findings import CLEAN, REPAIRED, TIGHT, Fit, Fits
from ..model.lick import Lick
from .edition import ShownFit
from .figure import figure, title_of
from .harmony_words import counted
from .html import link, text
from .published import Published
from .seam_section import seam_list
from .words import listed

ORDER = (TIGHT, REPAIRED, CLEAN)
"""The worst seam of a chain says what the chain is."""
SAID = {CLEAN: "clean", REPAIRED: "clean once mended", TIGHT: "tight"}
KEPT, DROPPED = "Its last link keeps its exit.", "The exit of its last link falls away."
WRITE_CHORDS = ("With its chord in square brackets before the first note, for example <code>[G]</code>, a lick can "
                "be used.")


@dataclass(frozen=True)
class Shelfmarks:
    """Titles and pages (from the site's root) of the library's licks, by id."""

    titles: Mapping[str, str]
    urls: Mapping[str, str]

    def named(self, lick_id: str) -> str:
        """A link, where there is a page."""
        title = self.titles.get(lick_id) or lick_id
        return link(title, self.urls[lick_id]) if lick_id in self.urls else text(title)


def fit_content(answer: ShownFit, shelfmarks: Shelfmarks, element_ids: Sequence[str], page_url: str) -> str:
    """HTML. ``element_ids`` has a free one for each chain; ``urls`` of ``shelfmarks`` are as seen from the page."""
    folds = "".join(
        _chain(number, fit, tab, answer.request, shelfmarks, element_id, page_url)
        for number, (fit, tab, element_id)
        in enumerate(zip(answer.fits.best, answer.tabs, element_ids, strict=True), start=1))
    return (f'<section class="fp-fit"><p class="fp-fit-says">{_says(answer, shelfmarks)}</p>'
            f"{_nearest(answer.fits)}{folds}{_left_out(answer, shelfmarks)}</section>")


def _says(answer: ShownFit, shelfmarks: Shelfmarks) -> str:
    request, fits, shown = answer.request, answer.fits, len(answer.fits.best)
    bars = f"{counted(request.bars)} {'bar' if request.bars == 1 else 'bars'}"
    them = "it" if request.bars == 1 else "them"
    asked = text(f"{bars[:1].upper()}{bars[1:]} of {request.over}") + _following(request, shelfmarks)
    if not fits.count:
        return f"{asked}: no chain of licks fills {them} without a clash."
    chains = f"{counted(fits.count)} {'chain fills' if fits.count == 1 else 'chains fill'} {them}"
    if shown == fits.count:
        return f"{asked}: {chains}."
    return f"{asked}: {chains}; the best{'' if shown == 1 else ' ' + counted(shown)}:"


def _following(request: FitRequest, shelfmarks: Shelfmarks) -> str:
    if request.after is None:
        return ""
    return f" after {_after_name(request.after, shelfmarks)}"


def _after_name(after: Lick | str, shelfmarks: Shelfmarks) -> str:
    if isinstance(after, str):
        return text(after)
    return shelfmarks.named(after.id) if after.id else text(title_of(after))


def _nearest(fits: Fits) -> str:
    if not fits.nearest_lengths:
        return ""
    lengths = listed(tuple(counted(length) for length in fits.nearest_lengths))
    noun = "bar" if fits.nearest_lengths == (1,) else "bars"
    return f"<p>The nearest lengths that can be filled: {lengths} {noun}.</p>"


def _chain(number: int, fit: Fit, tab: Published, request: FitRequest, shelfmarks: Shelfmarks, element_id: str,
           page_url: str) -> str:
    names = ", then ".join(shelfmarks.titles.get(lick_id) or lick_id for lick_id in fit.links)
    worst = next((word for word in ORDER if word in (*fit.seams, fit.before)), None)
    verdict = f": {SAID[worst]}" if worst else ""
    exit_said = {True: f"<p>{KEPT}</p>", False: f"<p>{DROPPED}</p>", None: ""}[fit.exit_kept]
    opened = " open" if number == 1 else ""
    return (f'<details class="fp-fold fp-fit-chain"{opened}><summary>{number}. {text(names)}{verdict}</summary>'
            f"{_before(fit, request, shelfmarks)}{seam_list(tab, shelfmarks.urls)}{exit_said}"
            f"{figure(tab, element_id, page_url)}</details>")


def _before(fit: Fit, request: FitRequest, shelfmarks: Shelfmarks) -> str:
    """The seam with the lick it follows, which is not in the tab."""
    if fit.before is None or request.after is None:
        return ""
    mended = f" with the repair <code>{text(fit.before_repair)}</code>" if fit.before_repair else ""
    said = CLEAN if fit.before == REPAIRED else fit.before
    return f"<p>{_after_name(request.after, shelfmarks)} into {shelfmarks.named(fit.links[0])}: {said}{mended}.</p>"


def _left_out(answer: ShownFit, shelfmarks: Shelfmarks) -> str:
    without = answer.fits.without_chords
    if not without:
        return ""
    names = "".join(f"<li>{shelfmarks.named(lick_id)}</li>" for lick_id in without)
    says = "1 lick doesn't say what it goes" if len(without) == 1 else f"{len(without)} licks don't say what they go"
    return (f'<details class="fp-fold"><summary>Left out: {says} over</summary><ul class="fp-names">{names}</ul>'
            f"<p>{WRITE_CHORDS}</p></details>")
