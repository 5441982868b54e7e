"""What can be measured of a note of the bank, and how one bank's figures differ from another's."""

from collections.abc import Mapping
from dataclasses import dataclass, fields


@dataclass(frozen=True)
class SoundFigures:
    """``cents`` from equal temperament, None where no pitch is meant; ``falls_10_db``, ``falls_20_db`` seconds until the
    energy still to come is so much less; ``level_db`` K-weighted, of the first part; ``peak_db`` of the highest sample;
    ``centre_hz`` the centre of gravity of the first part's spectrum."""

    cents: float | None
    falls_10_db: float
    falls_20_db: float
    level_db: float
    peak_db: float
    centre_hz: float


@dataclass(frozen=True)
class Quantity:
    """How a figure is told: with so many decimals, in a unit. A chart of it shows no less than ``least_span``, so that
    what nobody could hear does not fill it."""

    name: str
    heading: str
    unit: str
    decimals: int
    least_span: float = 0.0

    @property
    def label(self) -> str:
        return f"{self.heading}, {self.unit}"

    def said(self, value: float | None) -> str:
        """No minus sign stands before a nought."""
        if value is None:
            return "–"
        return f"{round(value, self.decimals) + 0.0:.{self.decimals}f}".replace("-", "−")


QUANTITIES = (
    Quantity("cents", "Off pitch", "cents", 2, least_span=0.2),
    Quantity("falls_10_db", "−10 dB after", "s", 3),
    Quantity("falls_20_db", "−20 dB after", "s", 3),
    Quantity("level_db", "Level", "dB", 1, least_span=3.0),
    Quantity("peak_db", "Peak", "dB", 1),
    Quantity("centre_hz", "Spectral centre", "Hz", 0),
)


@dataclass(frozen=True)
class Change:
    """Of one quantity over a whole bank: ``notes`` of which it is told otherwise than before, by how much on average
    (signed), and the one of which it has changed most, with ``before`` and ``after``."""

    quantity: Quantity
    notes: int
    mean: float
    most: str
    before: float | None
    after: float | None


def changes(before: Mapping[str, SoundFigures], after: Mapping[str, SoundFigures]) -> list[Change]:
    """Of the notes that both banks have."""
    both = [note for note in after if note in before]
    found = (_change(quantity, {note: getattr(before[note], quantity.name) for note in both},
                     {note: getattr(after[note], quantity.name) for note in both}) for quantity in QUANTITIES)
    return [change for change in found if change]


def _change(quantity: Quantity, before: Mapping[str, float | None], after: Mapping[str, float | None]) -> Change | None:
    changed = [note for note in after if quantity.said(before[note]) != quantity.said(after[note])]
    if not changed:
        return None
    by = {note: after[note] - before[note] for note in changed if after[note] is not None and before[note] is not None}
    most = max(by, key=lambda note: abs(by[note])) if by else changed[0]
    return Change(quantity, len(changed), sum(by.values()) / max(len(by), 1), most, before[most], after[most])


def as_plain(figures: Mapping[str, SoundFigures]) -> dict[str, dict[str, float | None]]:
    """For JSON, to a few more decimals than are told."""
    return {note: {item.name: _rounded(getattr(one, item.name)) for item in fields(one)} for note, one in figures.items()}


def from_plain(kept: Mapping[str, Mapping[str, float | None]]) -> dict[str, SoundFigures]:
    """Raises TypeError where something else was kept."""
    return {note: SoundFigures(**one) for note, one in kept.items()}


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 4) + 0.0
