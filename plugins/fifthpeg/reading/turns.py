"""Arrivals that go on from one note the first time, and from another or none after a turn back at ``:|``."""

from collections.abc import Iterator

from ..model.lick import Lick
from ..model.note import Note, notes_through
from ..model.play_order import unfold
from ..model.tab import HAMMER_ON, PULL_OFF, SLIDE, Group, Landing, Strike
from .faults import Faults


def check_turns_back(lick: Lick, faults: Faults) -> None:
    """Reports the first arrival of each mark that can't be played as the repeats bring it round."""
    if not any(bar.repeat_times for bar in lick.bars):
        return
    landings = list(_landings(lick))
    told: set[str] = set()
    for note in notes_through(lick, [index for index, _ in unfold(lick)]):
        if note.picked or note.mark in told or not _is_wrong(note):
            continue
        landing = next((landing for number, landing in landings
                        if number == note.bar and landing.string == note.string and landing.fret == note.fret), None)
        if landing is not None:
            told.add(note.mark)
            faults.add_at(landing.place, "nothing-to-hold",
                          f"after the turn back no note on string {note.string} leads to this "
                          f"{note.touch}", "pluck the string in the bar itself, so that it sounds every time round")


def _is_wrong(note: Note) -> bool:
    before = note.from_fret
    if before is None:
        return True
    return (note.touch == HAMMER_ON and before >= note.fret or note.touch == PULL_OFF and before <= note.fret
            or note.touch == SLIDE and (before == note.fret or before == 0))


def _landings(lick: Lick) -> Iterator[tuple[int, Landing]]:
    for bar in lick.bars:
        for cell in bar.cells:
            for strike in cell.cells if isinstance(cell, Group) else (cell,):
                if isinstance(strike, Strike):
                    yield from ((bar.number, landing) for landing in strike.landings)
