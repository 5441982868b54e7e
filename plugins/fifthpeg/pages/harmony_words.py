"""Where a lick fits, in words a player would use: over what, after what, and which of its notes stand out."""

from fractions import Fraction

from ..model.harmony import Colour, Stretch
from .places import places
from .published import Published

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
SHARES = {Fraction(1, 2): "half", Fraction(1, 4): "a quarter", Fraction(3, 4): "three quarters",
          Fraction(1, 3): "a third", Fraction(2, 3): "two thirds"}


def counted(count: int) -> str:
    """Small numbers as words."""
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def bars(length: Fraction) -> str:
    """``two bars``, ``half a bar``, ``one and a half bars``."""
    whole, share = divmod(length, 1)
    part = SHARES.get(share, str(share))
    if not whole:
        return "half a bar" if share == Fraction(1, 2) else f"{part} of a bar"
    if not share:
        return "one bar" if whole == 1 else f"{counted(int(whole))} bars"
    return f"{counted(int(whole))} and {'a ' if part == 'half' else ''}{part} bars"


def over(tab: Published) -> str:
    """``over G for two bars, then D7 for one bar``; empty where no chord is written."""
    stretches = tab.facts.harmony.over
    if not any(stretch.chord for stretch in stretches):
        return ""
    return ", then ".join(_stretch(stretch, first=index == 0) for index, stretch in enumerate(stretches))


def outside(tab: Published) -> tuple[str, ...]:
    """Notes that don't belong to the chord under them, those of one name and chord together."""
    return _grouped(tab, lambda note: note.outside_chord and f"{note.name} outside {note.outside_chord}")


def blue_notes(tab: Published) -> tuple[str, ...]:
    return _grouped(tab, lambda note: note.degree and f"{note.name}, the {note.degree}")


def chords(tab: Published) -> tuple[str, ...]:
    """The chords the lick goes over, each once."""
    return tuple(tab.facts.harmony.bars_by_chord)


def last_chord(tab: Published) -> str | None:
    """The one in force where the next lick comes in."""
    return tab.facts.harmony.over[-1].chord if tab.facts.harmony.over else None


def _grouped(tab: Published, name_of) -> tuple[str, ...]:
    found: dict[str, list[Colour]] = {}
    for note in tab.facts.harmony.colours:
        name = name_of(note)
        if name:
            found.setdefault(name, []).append(note)
    return tuple(f"{name}: {places(tab, ((note.bar, note.slot) for note in notes))}" for name, notes in found.items())


def _stretch(stretch: Stretch, first: bool) -> str:
    if stretch.chord is None:
        return f"no chord named for {bars(stretch.bars)}"
    return f"{'over ' if first else ''}{stretch.chord} for {bars(stretch.bars)}"
