"""Meters and the beat they are counted in."""

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True)
class Meter:
    """``count`` notes of value 1/``unit`` fill a bar: 4/4 is ``Meter(4, 4)``."""

    count: int
    unit: int

    def __str__(self) -> str:
        return f"{self.count}/{self.unit}"

    @property
    def quarters(self) -> Fraction:
        """Length of a bar in quarter notes."""
        return Fraction(4 * self.count, self.unit)

    @property
    def is_compound(self) -> bool:
        return self.unit == 8 and self.count % 3 == 0 and self.count > 3

    @property
    def beat_quarters(self) -> Fraction:
        """Length of the counted beat: the unit, or the dotted quarter in 6/8, 9/8, 12/8."""
        return Fraction(3, 2) if self.is_compound else Fraction(4, self.unit)

    def slots(self, grid: int) -> Fraction:
        """Slots of value 1/``grid`` in a bar."""
        return Fraction(self.count * grid, self.unit)
