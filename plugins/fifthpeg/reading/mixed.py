"""Links that can't stand in one chain, since they differ in what a whole tab shares."""

from collections.abc import Callable, Mapping, Sequence

from ..model.chain import differences
from ..model.lick import Lick
from ..model.tuning import short_string_stop
from .chain_keys import AskedLink
from .faults import Faults
from .note_words import NOTE_WORDS

SHARED = "the links of a chain share meter, slots, tuning, capo and short string"


def mixed_links(licks: Sequence[Lick], asked: Sequence[AskedLink], faults: Faults) -> None:
    """Reports each link that differs from the first, once for all it differs in."""
    for lick, link in zip(licks[1:], asked[1:], strict=True):
        unlike = [f"{what}: {SAYS[what](lick)} here, {SAYS[what](licks[0])} there"
                  for what in differences(lick, licks[0])]
        if unlike:
            place, first = faults.place(link.span), faults.place(asked[0].span)
            faults.add_at(place, "mixed-chain", f"`{link.id}` can't be chained to `{asked[0].id}`: they differ in "
                          + "; in ".join(unlike), f"{SHARED}: make these alike, or chain other licks",
                          tuple(other for other in (first, licks[0].place, lick.place) if other is not None))


def _short_string(lick: Lick) -> str:
    return "not raised" if lick.fifth == 0 else f"up to fret {short_string_stop(lick.capo, lick.fifth)}"


SAYS: Mapping[str, Callable[[Lick], str]] = {
    "meter": lambda lick: str(lick.meter),
    "slots": lambda lick: NOTE_WORDS[lick.grid],
    "tuning": lambda lick: lick.tuning.name,
    "capo": lambda lick: f"fret {lick.capo}" if lick.capo else "none",
    "short string": _short_string,
}
"""What a lick has of each thing that links share, in the trade's words."""
