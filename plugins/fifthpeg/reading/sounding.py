"""Which strings still sound while a lick is read, so that arrivals find the note they go on from."""

from fractions import Fraction

from ..model.lick import Lick
from ..model.note import FRETTED_RING_BEATS
from ..model.tab import CHOKE, RELEASE, Landing, Pluck
from .faults import Faults
from .plucks import Reach, arrives, choke_is_right


class Sounding:
    """Strings by the order of their last pluck; times are slots from the start of the lick."""

    def __init__(self, frame: Lick):
        self.frame = frame
        self.ring_slots = FRETTED_RING_BEATS * frame.meter.beat_quarters / frame.slot_quarters
        self.frets: dict[int, int] = {}
        self.written_ends: dict[int, Fraction | None] = {}
        self.bent: set[int] = set()
        self.begun = False

    def silence(self) -> None:
        """A rest damps every string."""
        self.frets.clear()
        self.written_ends.clear()
        self.bent.clear()

    def strike(self, at: Fraction, keeping: set[int]) -> None:
        """Written lengths end where something else is picked."""
        for string_number, end in self.written_ends.items():
            if end is None and string_number not in keeping:
                self.written_ends[string_number] = at

    def pluck(self, pluck: Pluck) -> None:
        self.frets.pop(pluck.string, None)
        self.bent.discard(pluck.string)
        if pluck.damped or pluck.chime:
            self.written_ends.pop(pluck.string, None)
            return
        self.frets[pluck.string] = pluck.arrivals[-1].fret if pluck.arrivals else pluck.fret
        self.written_ends[pluck.string] = None
        if pluck.choke_semitones and not pluck.release:
            self.bent.add(pluck.string)

    def land(self, reach: Reach, at: Fraction, faults: Faults) -> Landing | None:
        """The landing with its string found, or None after a fault."""
        string_number = self._find(reach, at)
        if string_number is None:
            which = ("no fretted or open string sounds" if reach.string is None
                     else f"string {reach.string} doesn't sound")
            faults.add(reach.span, "nothing-to-hold",
                       f"{which} here, so there is nothing for a {reach.touch} to go on from",
                       "pluck the string first, with no rest between; "
                       "no touch can follow a chime or a damped string")
            return None
        before = self.frets[string_number]
        if not self._can_land(reach, string_number, before, faults):
            return None
        fret = before if reach.fret is None else reach.fret
        self.frets[string_number] = fret
        self.written_ends[string_number] = None
        if reach.touch == CHOKE:
            self.bent.add(string_number)
        else:
            self.bent.discard(string_number)
        return Landing(string_number, reach.touch, fret, reach.left, reach.semitones, faults.place(reach.span))

    def _find(self, reach: Reach, at: Fraction) -> int | None:
        wanted = [reach.string] if reach.string is not None else list(reversed(self.frets))
        return next((number for number in wanted if self._sounds(number, at)), None)

    def _sounds(self, string_number: int, at: Fraction) -> bool:
        if string_number not in self.frets:
            return False
        end = self.written_ends[string_number]
        return end is None or self.frets[string_number] == 0 or at <= end + self.ring_slots

    def _can_land(self, reach: Reach, string_number: int, before: int, faults: Faults) -> bool:
        if reach.touch == CHOKE:
            return choke_is_right(reach.semitones, before, reach.span, faults)
        if reach.touch == RELEASE:
            if string_number in self.bent:
                return True
            faults.add(reach.span, "bad-choke", "there is no choke to let down here",
                       "choke the note first: `b1`, then `r`")
            return False
        return arrives(string_number, before, reach.fret, reach.touch, reach.span, self.frame, faults)
