"""Where in a bar and for how long, in a player's words: beats of the meter, "and", shares of a beat."""

from fractions import Fraction
from functools import lru_cache
from math import gcd

from ..model.meter import Meter
from ..model.tab import Group

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
ORDINALS = ("", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
SHARES = {2: "half", 3: "third", 4: "quarter", 5: "fifth", 6: "sixth", 7: "seventh", 8: "eighth", 9: "ninth",
          10: "tenth", 12: "twelfth", 16: "sixteenth"}
EIGHTHS_IN_COMPOUND_BEAT = 3


@lru_cache(maxsize=1024)
def label(quarters: Fraction, meter: Meter, beat_said: int | None) -> tuple[str, int]:
    """A time from the barline, and its beat from 1. Where ``beat_said`` is that beat it need not be said again."""
    beats, share = divmod(quarters / meter.beat_quarters, 1)
    beat = int(beats) + 1
    if not share:
        return f"Beat {beat}", beat
    again = beat == beat_said
    if meter.is_compound and (share * EIGHTHS_IN_COMPOUND_BEAT).denominator == 1:
        named = f"{ordinal(int(share * EIGHTHS_IN_COMPOUND_BEAT) + 1).capitalize()} eighth"
        return (named if again else f"{named} of beat {beat}"), beat
    if share == Fraction(1, 2) and not meter.is_compound:
        return ("And" if again else f"And of beat {beat}"), beat
    named = "half a beat" if share == Fraction(1, 2) else share_words(share)
    return f"{named[0].upper()}{named[1:]} {'on' if again else f'past beat {beat}'}", beat


def place_words(quarters: Fraction, meter: Meter) -> str:
    """A time from the barline within a sentence: ``beat 3``, ``the and of beat 2``, ``a quarter past beat 1``."""
    named = label(quarters, meter, None)[0]
    article = "" if named.startswith("Beat ") or " past " in named else "the "
    return f"{article}{named[0].lower()}{named[1:]}"


@lru_cache(maxsize=256)
def duration_words(beats: Fraction) -> str:
    """``half a beat``, ``a beat and a half``, ``2 and a half beats``, ``two thirds of a beat``."""
    whole, share = divmod(beats, 1)
    if not share:
        return "a beat" if whole == 1 else f"{whole} beats"
    if not whole:
        return "half a beat" if share == Fraction(1, 2) else f"{share_words(share)} of a beat"
    return f"a beat and {share_words(share)}" if whole == 1 else f"{whole} and {share_words(share)} beats"


def share_words(share: Fraction) -> str:
    """A fraction below 1: ``a quarter``, ``two thirds``; rare ones in figures."""
    name = SHARES.get(share.denominator)
    if name is None or share.numerator >= len(NUMBERS):
        return f"{share.numerator}/{share.denominator}"
    if share.numerator > 1:
        return f"{NUMBERS[share.numerator]} {name}s"
    return f"{'an' if name[0] == 'e' else 'a'} {name}"


def ordinal(number: int) -> str:
    return ORDINALS[number]


def group_words(group: Group, slot_quarters: Fraction, meter: Meter) -> str:
    """What kind of tuplet a group is; nothing where plain shares of a beat say it."""
    count = len(group.cells)
    odd = count // gcd(count, group.slots)
    while odd % 2 == 0:
        odd //= 2
    if odd == 1:
        return ""
    length = duration_words(group.slots * slot_quarters / meter.beat_quarters)
    return f"triplet over {length}" if count == 3 else f"{NUMBERS[count]} over {length}"
