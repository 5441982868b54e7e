"""What goes into the pipeline beside a lick, and what it hands on for one: all in memory."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from .model.cell_words import CellWords
from .model.findings import CLEAN, Join, RepeatedFinger, Roll, Seam
from .model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND, WIDEST_SPAN_MM
from .model.harmony import Harmony
from .model.left_hand import LeftHand
from .model.lick import Lick

DEFAULT_RATE_HZ = 22_050
DEFAULT_LOUDNESS_LUFS = -21.0


@dataclass(frozen=True)
class Options:
    """The site's settings that change what a lick becomes. Loudness is that of a mono file."""

    rate_hz: int = DEFAULT_RATE_HZ
    loudness_lufs: float = DEFAULT_LOUDNESS_LUFS
    tight_per_second: float = TIGHT_PER_SECOND
    clash_per_second: float = CLASH_PER_SECOND
    widest_span_mm: float = WIDEST_SPAN_MM

    @property
    def speeds(self) -> tuple[float, float]:
        return self.clash_per_second, self.tight_per_second


@dataclass(frozen=True)
class Facts:
    """What the tool found out about a lick. ``bank`` names the bank notes its sound is mixed from."""

    rolls: tuple[Roll, ...] = ()
    loop: Join = Join(CLEAN)
    loop_with_exit: Join = Join(CLEAN)
    bank: tuple[str, ...] = ()
    half_rolls: tuple[Roll, ...] = ()
    repeats: tuple[RepeatedFinger, ...] = ()
    seams: tuple[Seam, ...] = ()
    left: LeftHand = LeftHand({}, (), ())
    harmony: Harmony = Harmony((), None, (), ())


@dataclass(frozen=True)
class Compiled:
    """``inline`` is the drawing for a page, ``player`` the player's data as JSON text.

    ``words`` is the tab read aloud, a text for each bar; ``cells`` the same cell by cell. ``files`` maps the ending of a
    published file's name to its bytes: ``.svg``, ``.mid``, ``.musicxml``, ``.json``,
    ``-slow.wav``, ``-medium.wav``, ``-full.wav``.
    """

    facts: Facts
    inline: str
    player: str
    words: tuple[str, ...]
    cells: tuple[CellWords, ...]
    files: Mapping[str, bytes] = field(repr=False)
