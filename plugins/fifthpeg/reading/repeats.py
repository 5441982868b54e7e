"""Repeat signs and endings that don't add up."""

from collections.abc import Sequence

from ..model.lick import Lick
from ..model.tab import Bar
from .faults import Faults
from .plucks import Span


def check_repeats(bars: Sequence[Bar], spans: Sequence[Span], frame: Lick, faults: Faults) -> None:
    """Every opened repeat closes before the next opens; endings belong to a repeat; a pick-up finds room."""
    opened: int | None = None
    first_ending: int | None = None
    for index, bar in enumerate(bars):
        if bar.opens_repeat:
            if opened is not None:
                _fault(spans[index], "a repeat begins here before the last one ended", "close the first with `:|`",
                       faults)
            opened = index
        if bar.ending == 1:
            first_ending = index
        if bar.ending == 2 and not (index and bars[index - 1].repeat_times and first_ending is not None):
            says = "a second ending with no first ending before it" if first_ending is None else (
                "the first ending does not turn back before this second one")
            _fault(spans[index], says, "write `<1>` at the first ending, `:|` at its end, then `<2>`", faults)
        if bar.repeat_times and bar.number == 0:
            _fault(spans[index], "a pick-up can't be repeated by itself", "put `:|` after a whole bar", faults)
        if opened is not None and _lacks_room(bars[opened], bar, frame):
            _fault(spans[index], "going back to the pick-up, there is no room for it before the barline",
                   f"leave the bar before `:|` short by the pick-up's {frame.pickup} slots, "
                   "or put `|:` after the pick-up", faults)
        if bar.repeat_times:
            if first_ending is not None and not (index + 1 < len(bars) and bars[index + 1].ending == 2):
                _fault(spans[index], "a first ending without a second", "begin the bar after `:|` with `<2>`", faults)
            opened = None
        if bar.ending == 2:
            first_ending = None
    if opened is not None:
        _fault(spans[opened], "this repeat never closes", "put `:|` after its last bar", faults)
    elif first_ending is not None and not any(bar.repeat_times for bar in bars[first_ending:]):
        _fault(spans[first_ending], "this first ending never turns back", "put `:|` at its end", faults)


def _lacks_room(opening: Bar, bar: Bar, frame: Lick) -> bool:
    """Whether a repeat that begins with the pick-up turns back from a bar with no room for it."""
    turns_to_pickup = bar.repeat_times and bar.number and opening.number == 0
    return bool(turns_to_pickup) and bar.slot_count > frame.meter.slots(frame.grid) - frame.pickup


def _fault(span: Span, says: str, hint: str, faults: Faults) -> None:
    faults.add(span, "bad-repeat", says, hint)
