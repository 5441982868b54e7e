"""The right-hand fingers of a lick, written and chosen."""

from fifthpeg.analysis.study import choose_fingers
from fifthpeg.model.lick import Lick
from fifthpeg.model.note import with_fingers, written_notes


def fingers_of(lick: Lick) -> str:
    """All in written order, those of one strike joined: ``T I T+M``."""
    return " ".join("+".join(fingers) for fingers in fingering_of(lick))


def fingering_of(lick: Lick) -> list[tuple[str, ...]]:
    notes = written_notes(lick)
    strikes: dict[int, list[str]] = {}
    for note in with_fingers(notes, choose_fingers(lick, notes)):
        if note.picked:
            strikes.setdefault(note.strike, []).append(note.finger)
    return [tuple(fingers) for fingers in strikes.values()]
