"""What a tuner offers: the open strings of every tuning a course uses, and what a capo makes of them."""

from collections.abc import Iterable
from dataclasses import dataclass

from .bank import BankNote
from .lick import Lick
from .pitch import frequency_hz, name_of
from .tuning import STRING_NUMBERS, TUNINGS, Tuning, sounding_midi

ALWAYS = TUNINGS["open G"]


@dataclass(frozen=True)
class OpenString:
    """``midi`` is what it is tuned to, without a capo."""

    string: int
    midi: int

    @property
    def pitch_words(self) -> str:
        return f"{name_of(self.midi)}, {frequency_hz(self.midi):.1f} Hz"

    @property
    def words(self) -> str:
        return f"String {self.string}, {self.pitch_words}"

    @property
    def tone(self) -> str:
        """The name of its steady tone; strings at one pitch share it."""
        return f"tone-{self.midi}"

    @property
    def pluck(self) -> str:
        return f"pluck-{self.string}-{self.midi}"

    @property
    def bank_note(self) -> BankNote:
        return BankNote(self.string, self.midi, 0)


@dataclass(frozen=True, order=True)
class Raised:
    """A capo, and the fret of the short string where a lick says it (None: five past the capo)."""

    capo: int
    fifth: int | None = None


@dataclass(frozen=True)
class TunerSection:
    """One tuning. ``raised`` are the capos that licks of the course use with it, each with their titles."""

    tuning: Tuning
    raised: tuple[tuple[Raised, tuple[str, ...]], ...] = ()

    @property
    def strings(self) -> tuple[OpenString, ...]:
        return tuple(OpenString(string, self.tuning.open_midi(string)) for string in STRING_NUMBERS)

    def sounding(self, raised: Raised) -> tuple[int, ...]:
        """MIDI numbers of the open strings then, 5th to 1st."""
        return tuple(sounding_midi(self.tuning, string, 0, raised.capo, raised.fifth) for string in reversed(STRING_NUMBERS))


def tuner_sections(licks: Iterable[Lick]) -> tuple[TunerSection, ...]:
    """Open G first, then the others by name; tunings of the same pitches are one."""
    titles: dict[tuple[int, ...], dict[Raised, list[str]]] = {ALWAYS.pitches: {}}
    named = {tuning.pitches: tuning for tuning in TUNINGS.values()}
    for lick in licks:
        named.setdefault(lick.tuning.pitches, lick.tuning)
        found = titles.setdefault(lick.tuning.pitches, {})
        if lick.capo:
            found.setdefault(Raised(lick.capo, lick.fifth), []).append(lick.title or (lick.id or ""))
    sections = (TunerSection(named[pitches], _in_order(found)) for pitches, found in titles.items())
    return tuple(sorted(sections, key=lambda section: (section.tuning.pitches != ALWAYS.pitches, section.tuning.name)))


def _in_order(found: dict[Raised, list[str]]) -> tuple[tuple[Raised, tuple[str, ...]], ...]:
    order = sorted(found, key=lambda raised: (raised.capo, raised.fifth or 0))
    return tuple((raised, tuple(title for title in dict.fromkeys(found[raised]) if title)) for raised in order)
