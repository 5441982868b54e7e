"""Links that can't stand in one chain, since they differ in what a whole tab shares."""

from collections.abc import Callable, Sequence

from ..model.lick import Lick
from ..model.tuning import short_string_stop
from .chain_keys import AskedLink
from .faults import Faults
from .note_words import NOTE_WORDS

SHARED = "the links of a chain share meter, slots, tuning, capo and short string"


def mixed_links(licks: Sequence[Lick], asked: Sequence[AskedLink], faults: Faults) -> None:
    """Reports each link that differs from the first, once for all it differs in."""
    for lick, link in zip(licks[1:], asked[1:], strict=True):
        unlike = [f"{what}: {says(lick)} here, {says(licks[0])} there" for what, of, says in TRAITS
                  if of(lick) != of(licks[0])]
        if unlike:
            place, first = faults.place(link.span), faults.place(asked[0].span)
            faults.add_at(place, "mixed-chain", f"`{link.id}` can't be chained to `{asked[0].id}`: they differ in "
                          + "; in ".join(unlike), f"{SHARED}: make these alike, or chain other licks",
                          tuple(other for other in (first, licks[0].place, lick.place) if other is not None))


def _stop(lick: Lick) -> int:
    return short_string_stop(lick.capo, lick.fifth)


def _short_string(lick: Lick) -> str:
    return "not raised" if lick.fifth == 0 else f"up to fret {_stop(lick)}"


TRAITS: tuple[tuple[str, Callable[[Lick], object], Callable[[Lick], str]], ...] = (
    ("meter", lambda lick: lick.meter, lambda lick: str(lick.meter)),
    ("slots", lambda lick: lick.grid, lambda lick: NOTE_WORDS[lick.grid]),
    ("tuning", lambda lick: lick.tuning.pitches, lambda lick: lick.tuning.name),
    ("capo", lambda lick: lick.capo, lambda lick: f"fret {lick.capo}" if lick.capo else "none"),
    ("short string", lambda lick: _stop(lick) - lick.capo, _short_string),
)
"""In the trade's words; how two licks are compared; what one of them says. A short string that only goes along with
the capo is no difference of its own."""
