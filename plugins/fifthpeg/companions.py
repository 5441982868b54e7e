"""Tabs made from others: the chains of a fit, an ending or a seam mended, a lick after what it follows.

Licks in, licks out. No sound and no array is needed for them, so that a build that finds everything on the shelf
starts without numpy.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from .analysis.chain import link_up
from .analysis.fit_chain import as_chain
from .analysis.repairs import loop_repairs
from .analysis.seams import seam
from .analysis.settle import settled
from .analysis.vamp import vamp
from .compiled import Filling, Options
from .model.chain import Chain, FitRequest, Link, differences
from .model.chord import is_chord
from .model.findings import Fits
from .model.lick import Lick, Showing
from .reading.showing import show

VAMP_BARS = 2


def fit_licks(request: FitRequest, fits: Fits, licks: Sequence[Lick], options: Options) -> tuple[Lick, ...]:
    """Each of the best chains put together."""
    by_id = {lick.id or "": lick for lick in licks}
    return tuple(link_up(as_chain(fit, request, by_id), *options.speeds).lick for fit in fits.best)


def chord_vamp(filling: Filling, licks: Sequence[Lick], options: Options) -> Lick:
    """Two bars of backup over the chord, in the meter and at the tempo that most licks under it have; then the faster."""
    ids = {filler.id for filler in filling.fillers}
    over = [lick for lick in licks if lick.id in ids]
    times = Counter((lick.meter, lick.tempo) for lick in over)
    like = max(over, key=lambda lick: (times[lick.meter, lick.tempo], lick.tempo))
    return replace(vamp(filling.chord, like, VAMP_BARS), title=f"Vamp on {filling.chord}")


def repaired_ending(lick: Lick, options: Options) -> Lick | None:
    """The bar that the smallest repair of the lick's loop changes, as it is then; None where none is needed or
    found."""
    offers = loop_repairs(lick, False, *options.speeds)
    if not offers:
        return None
    before, made = settled(lick, *options.speeds), offers[0].before
    touched = [new.number for old, new in zip(before.bars, made.bars, strict=True) if old != new]
    return _mended(lick, made, (touched[0], touched[0]), offers[0].says)


def mended_seams(lick: Lick, options: Options) -> dict[int, Lick]:
    """Number of the link before the seam -> the bars on both sides, with the smallest repair made; of a chain's seams
    that are not clean and can be mended."""
    found = {}
    for seam_found in link_up(lick.chain, *options.speeds).seams if lick.chain else ():
        if seam_found.join.repairs:
            offer = seam_found.join.repairs[0]
            links = list(lick.chain.links)
            links[seam_found.link] = replace(links[seam_found.link], repair=offer.name)
            made = link_up(replace(lick.chain, links=tuple(links)), *options.speeds).lick
            first = made.links[seam_found.link + 1].first[0]
            bars = max(first - 1, made.bars[0].number), first
            found[seam_found.link] = _mended(lick, made, bars, offer.says)
    return found


def _mended(lick: Lick, made: Lick, bars: tuple[int, int], says: str) -> Lick:
    """These bars of the lick as repaired, named by what the repair says."""
    return replace(show(made, Showing(lick.id or "", bars=bars)), title=f"{says[:1].upper()}{says[1:]}", labels=())


def in_context(lick: Lick, before: Lick | None, options: Options) -> Lick | None:
    """The lick after the one it is meant to follow, or after a bar of the chord; None where they can't be chained."""
    if before is None and not is_chord(lick.after):
        return None
    lead = replace(vamp(lick.after, lick), title=f"A bar of {lick.after}") if before is None else before
    if differences(lead, lick) or not seam(lead, lick, None, None, *options.speeds).has_room:
        return None
    chain = Chain(
        (Link(lead), Link(lick)), title=f"{lick.title}, after {before.title if before else lick.after}", key=lick.key,
        tempo=lick.tempo, tempos=lick.tempos, bounce=lick.bounce, rights=lick.rights)
    return link_up(chain, *options.speeds).lick
