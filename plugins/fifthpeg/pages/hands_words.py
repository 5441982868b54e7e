"""What both hands do in a lick, in words a player would use."""

from collections.abc import Iterable

from ..model.findings import CLEAN, Join, RepeatedFinger, Repair, Roll
from ..model.hands import FINGER_WORDS
from ..model.left_hand import WideSpan
from .places import bar_name, place
from .published import Published
from .words import beats, listed, number

HALVES = {None: "", 1: "first half of ", 2: "second half of "}
NO_REPEAT = "no finger picks twice in a row at speed"
NO_ROOM = ("the pick-up finds neither empty slots nor a short bar to lie over: it is taken to come after the end, "
           "and the count of bars does not come out")
CARE = ("Where a stretch strains, play it elsewhere on the neck or leave a note out. Don't play on with pain: ask a "
        "doctor or a physiotherapist.")


def rolls(found: Iterable[Roll]) -> str:
    """Each roll once, with the bars and half bars it fills: ``forward (bars 1 and 2, first half of bar 3)``."""
    by_name: dict[str, list[Roll]] = {}
    for roll in sorted(found, key=lambda roll: (roll.bar, roll.half or 0)):
        by_name.setdefault(roll.name, []).append(roll)
    return "; ".join(f"{name} ({_roll_places(same)})" for name, same in by_name.items())


def marks(tab: Published) -> tuple[str, ...]:
    """Each finger that picks twice in a row inside the lick: where, which, how fast, how hard."""
    return tuple(f"{place(tab, mark.bar, mark.slot)}: {_repeat(mark)}" for mark in tab.facts.repeats)


def positions(tab: Published) -> str:
    """Where the left hand lies, from where on; empty where it holds nothing down."""
    names = [f"{here.name} from {place(tab, here.bar, here.slot)}" for here in tab.facts.left.positions]
    return f"{tab.facts.left.positions[0].name} throughout" if len(names) == 1 else "; ".join(names)


def wide_spans(tab: Published) -> tuple[str, ...]:
    return tuple(f"{place(tab, span.bar, span.slot)}: {_span(span)}" for span in tab.facts.left.wide_spans)


def twice(fingers: tuple[str, ...], per_second: float | None) -> str:
    """``middle picks twice in a row, 6.9 times a second at full tempo``."""
    names = listed(tuple(FINGER_WORDS[finger] for finger in fingers)) or "one finger"
    said = f"{names} {'picks' if len(fingers) < 2 else 'pick'} twice in a row"
    return said if per_second is None else f"{said}, {number(per_second)} times a second at full tempo"


def join(found: Join) -> str:
    """A verdict and what it means for the hand."""
    said = "clean: no right-hand finger picks twice in a row there"
    if found.verdict != CLEAN:
        said = f"{found.verdict}: {twice(found.fingers, found.per_second)}"
        if found.clashes_above is not None:
            said += f"; a clash above {beats(found.clashes_above)}"
    return said if found.has_room else f"{said}; {NO_ROOM}"


def sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."


def offers(found: Join) -> tuple[str, ...]:
    """What would make the join clean, the smallest change first, in sentences."""
    return tuple(offer(repair) for repair in found.repairs)


def offer(repair: Repair) -> str:
    return sentence(repair.says)


def _repeat(mark: RepeatedFinger) -> str:
    return f"{mark.verdict}, {twice(mark.fingers, mark.per_second)}; a clash above {beats(mark.clashes_above)}"


def _span(span: WideSpan) -> str:
    frets = listed(tuple(map(str, span.frets)))
    return f"a wide stretch, frets {frets}, {span.millimetres:.0f} mm"


def _roll_places(same: list[Roll]) -> str:
    whole = [str(roll.bar) for roll in same if roll.half is None]
    said = [("bar " if len(whole) == 1 else "bars ") + listed(tuple(whole))] if whole else []
    return ", ".join([*said, *(f"{HALVES[roll.half]}{bar_name(roll.bar)}" for roll in same if roll.half)])
