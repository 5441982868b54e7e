"""What is written in a bar, cell by cell, before anything is performed."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from .problem import Place

SLIDE, HAMMER_ON, PULL_OFF, CHOKE, RELEASE = "slide", "hammer-on", "pull-off", "choke", "release"


@dataclass(frozen=True)
class Arrival:
    """A fret reached without picking, inside the slot of its pluck."""

    touch: str
    fret: int
    left: str | None = None


@dataclass(frozen=True)
class Pluck:
    """One string sounded once. ``fret`` 0 is open; ``damped`` plucks have no pitch.

    ``choke_semitones``, ``vibrato`` and ``release`` belong to the last note of the pluck,
    after its arrivals. A ``chime`` touches the node at ``fret``. A ``carried`` pluck is an
    arrival whose start a showing left out: it is picked and drawn in brackets. A ``chosen``
    finger is not the writer's but the tool's, kept with the pluck once it is settled.
    """

    string: int
    fret: int = 0
    finger: str | None = None
    left: str | None = None
    arrivals: tuple[Arrival, ...] = ()
    choke_semitones: Fraction = Fraction(0)
    release: bool = False
    chime: bool = False
    vibrato: bool = False
    damped: bool = False
    carried: bool = False
    chosen: bool = False
    place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Landing:
    """An arrival with a slot of its own, on a string that still sounds.

    ``touch`` is one of the five above; ``fret`` is the fret held afterwards (for a choke
    or a release the one already held).
    """

    string: int
    touch: str
    fret: int
    left: str | None = None
    semitones: Fraction = Fraction(0)
    place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Strike:
    """Plucks and landings of one moment; without plucks it is a bare arrival."""

    plucks: tuple[Pluck, ...]
    landings: tuple[Landing, ...] = ()
    accent: bool = False
    place: Place | None = field(default=None, compare=False)

    @property
    def is_brush(self) -> bool:
        """One finger over three or more adjoining strings."""
        strings = sorted(pluck.string for pluck in self.plucks)
        one_finger = len({pluck.finger for pluck in self.plucks}) == 1 and self.plucks[0].finger is not None
        return len(strings) >= 3 and one_finger and strings == list(range(strings[0], strings[0] + len(strings)))


@dataclass(frozen=True)
class Hold:
    """What sounds goes on."""

    place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Rest:
    """Silence; all strings damped."""

    place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Group:
    """``cells`` share ``slots`` slots evenly."""

    cells: tuple[Strike | Hold | Rest, ...]
    slots: int = 1
    accent: bool = False
    place: Place | None = field(default=None, compare=False)


Cell = Strike | Hold | Rest | Group


@dataclass(frozen=True)
class Bar:
    """One bar as written. ``number`` is 0 for a pick-up.

    ``chords`` and ``texts`` are (slot index from 0, words). ``repeat_times`` above 0 closes
    a repeat played so many times in all; ``ending`` is 1 or 2 where an ending begins.
    ``first_slot_index`` is above 0 where a showing leaves out the bar's beginning.
    """

    number: int
    cells: tuple[Cell, ...]
    chords: tuple[tuple[int, str], ...] = ()
    texts: tuple[tuple[int, str], ...] = ()
    opens_repeat: bool = False
    repeat_times: int = 0
    ending: int = 0
    first_slot_index: int = 0

    @property
    def slot_count(self) -> int:
        return sum(cell_slots(cell) for cell in self.cells)

    def placed_cells(self) -> Iterator[tuple[int, Cell]]:
        """Each cell with the slot index it begins at, counted from the first slot shown."""
        slot_index = 0
        for cell in self.cells:
            yield slot_index, cell
            slot_index += cell_slots(cell)


def cell_slots(cell: Cell) -> int:
    """How many slots a cell takes."""
    return cell.slots if isinstance(cell, Group) else 1
