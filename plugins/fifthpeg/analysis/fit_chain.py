"""A chain that was found for a fit, ready to be put together."""

from collections.abc import Mapping

from ..model.chain import Chain, FitRequest, Link
from ..model.findings import Fit
from ..model.lick import Lick


def as_chain(fit: Fit, request: FitRequest, licks: Mapping[str, Lick]) -> Chain:
    """``licks`` by id. The chain has no id: it is drawn and heard, and not part of the library."""
    links = [licks[lick_id] for lick_id in fit.links]
    repairs = (*fit.repairs, None)
    return Chain(
        links=tuple(Link(lick, repair) for lick, repair in zip(links, repairs, strict=True)),
        title=", then ".join(lick.title or lick.id for lick in links), key=links[0].key, after=links[0].after,
        rights=links[0].rights, tempo=request.tempo, bounce=request.bounce, keep_exit=fit.exit_kept is not False)
