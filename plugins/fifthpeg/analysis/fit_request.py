"""What a fit block asks for: the licks that may be used, and the chains found."""

from collections.abc import Sequence

from ..model.chain import FitRequest
from ..model.findings import Fits
from ..model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND
from ..model.lick import Lick
from .fits import find_fits


def answer(request: FitRequest, licks: Sequence[Lick], clash_per_second: float = CLASH_PER_SECOND,
           tight_per_second: float = TIGHT_PER_SECOND) -> Fits:
    """The best chains of the ``licks`` that the request lets in."""
    return find_fits(admitted(request, licks), request.bars, request.over, request.after, request.most, request.tempo,
                     request.bounce, clash_per_second, tight_per_second)


def admitted(request: FitRequest, licks: Sequence[Lick]) -> list[Lick]:
    """Those that are named, or, where none is, all that have one of each thing asked for."""
    return [lick for lick in licks
            if (not request.with_ids or lick.id in request.with_ids)
            and (not request.roles or lick.role in request.roles)
            and (not request.keys or lick.key in request.keys)
            and (not request.labels or set(request.labels) & set(lick.labels))]
