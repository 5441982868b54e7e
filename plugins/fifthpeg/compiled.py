"""What goes into the pipeline beside a lick, and what it hands on for one: all in memory."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from .model.cell_words import CellWords
from .model.findings import CLASH, CLEAN, TIGHT, Join, RepeatedFinger, Roll, Seam
from .model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND, WIDEST_SPAN_MM
from .model.harmony import Harmony
from .model.left_hand import LeftHand
from .model.lick import TEMPO_NAMES, Lick
from .model.own_bank import NO_OWN_BANK, OwnBank

DEFAULT_RATE_HZ = 22_050
DEFAULT_LOUDNESS_LUFS = -21.0
DEFAULT_BACKING_BELOW_LU = 8.0
DEFAULT_TICK_LEVEL = 100.0
ROOM_NAMES = ("none", "small")
NO_ROOM = ROOM_NAMES[0]


@dataclass(frozen=True)
class Options:
    """The site's settings that change what a lick becomes.

    ``recordings`` names those that are made; ``backing_below_lu`` says by how much the backing is quieter than the
    lick, ``click_level`` and ``count_level`` how loud ticks are, in per cent as in the player; ``course`` is the site's
    name. The ``repr`` stands for all of it in the keys of what is kept: of ``own_bank`` that is its own key.
    """

    rate_hz: int = DEFAULT_RATE_HZ
    loudness_lufs: float = DEFAULT_LOUDNESS_LUFS
    tight_per_second: float = TIGHT_PER_SECOND
    clash_per_second: float = CLASH_PER_SECOND
    widest_span_mm: float = WIDEST_SPAN_MM
    recordings: tuple[str, ...] = TEMPO_NAMES
    backing_in_recordings: bool = True
    backing_below_lu: float = DEFAULT_BACKING_BELOW_LU
    click_in_recordings: bool = False
    click_level: float = DEFAULT_TICK_LEVEL
    count_in_recordings: bool = False
    count_level: float = DEFAULT_TICK_LEVEL
    stereo: bool = False
    room: str = NO_ROOM
    course: str = ""
    own_bank: OwnBank = NO_OWN_BANK

    @property
    def speeds(self) -> tuple[float, float]:
        return self.clash_per_second, self.tight_per_second


@dataclass(frozen=True)
class Facts:
    """What the tool found out about a lick.

    ``bank`` names the bank's sounds that a player of it may need, its backing's among them; ``recordings`` the
    recordings that were made, and ``count_in_recordings`` says whether a bar is counted before them.
    """

    rolls: tuple[Roll, ...] = ()
    loop: Join = Join(CLEAN)
    loop_with_exit: Join = Join(CLEAN)
    bank: tuple[str, ...] = ()
    half_rolls: tuple[Roll, ...] = ()
    repeats: tuple[RepeatedFinger, ...] = ()
    seams: tuple[Seam, ...] = ()
    left: LeftHand = LeftHand({}, (), ())
    harmony: Harmony = Harmony((), None, (), ())
    recordings: tuple[str, ...] = ()
    count_in_recordings: bool = False


@dataclass(frozen=True)
class SmallTab:
    """A tab without files of its own: drawn, said in words, and sounded by the player from the bank."""

    title: str
    inline: str
    player: str
    words: tuple[str, ...]


@dataclass(frozen=True)
class Compiled:
    """``inline`` is the drawing for a page, ``player`` the player's data as JSON text.

    ``words`` is the tab read aloud, a text for each bar; ``cells`` the same cell by cell. ``files`` maps the ending of a
    published file's name to its bytes: ``.svg``, ``.mid``, ``.musicxml``, ``.json``, and those of ``-slow.wav``,
    ``-medium.wav``, ``-full.wav`` that are made. ``ending`` is the bar that the smallest repair of its loop changes,
    mended.
    """

    facts: Facts
    inline: str
    player: str
    words: tuple[str, ...]
    cells: tuple[CellWords, ...]
    files: Mapping[str, bytes] = field(repr=False)
    ending: SmallTab | None = None


VERDICT_SIGNS = {CLEAN: "0", TIGHT: "1", CLASH: "2", None: "-"}
"""One character a pair keeps a library of thousands small."""
_VERDICTS = {sign: verdict for verdict, sign in VERDICT_SIGNS.items()}


@dataclass(frozen=True)
class Neighbours:
    """What goes with what: ``rows`` has a text for each lick of ``ids``, a sign for each that may follow it;
    ``joins`` what is to be said of seams that are not clean, by both ids with a space between."""

    ids: tuple[str, ...] = ()
    rows: tuple[str, ...] = ()
    joins: Mapping[str, Join] = field(default_factory=dict)

    @cached_property
    def _places(self) -> dict[str, int]:
        return {lick_id: index for index, lick_id in enumerate(self.ids)}

    def verdict(self, before_id: str, after_id: str) -> str | None:
        """None where the two can't stand in one chain."""
        return _VERDICTS[self.rows[self._places[before_id]][self._places[after_id]]]

    def join(self, before_id: str, after_id: str) -> Join | None:
        """None where the two can't stand in one chain, or the library is too large to say it of every pair."""
        found = self.joins.get(f"{before_id} {after_id}")
        return Join(CLEAN) if found is None and self.verdict(before_id, after_id) == CLEAN else found


@dataclass(frozen=True)
class Filler:
    """A lick that lies under one chord throughout; ``full_bars``, with its exit, is None without one or where that
    leaves the chord."""

    id: str
    body_bars: int
    full_bars: int | None


@dataclass(frozen=True)
class Filling:
    """What time over one chord can be filled with: ``lengths`` in bars that some chain fills, and the licks for it."""

    chord: str
    lengths: tuple[int, ...]
    fillers: tuple[Filler, ...]
