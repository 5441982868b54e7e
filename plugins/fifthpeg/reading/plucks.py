"""One word of the body as the strike it means: plucks joined by ``+``, and arrivals with a slot of their own.

What a word can be judged by alone is judged here; what depends on the strings still sounding is
left to ``sounding``.
"""

import re
from dataclasses import dataclass
from fractions import Fraction

from ..model.lick import Lick
from ..model.note import CHIME_NODES
from ..model.tab import CHOKE, HAMMER_ON, PULL_OFF, RELEASE, SLIDE, Arrival, Pluck
from ..model.tuning import LAST_FRET, SHORT_STRING, first_short_string_fret, short_string_stop
from .faults import Faults
from .messages import listed
from .suggest import suggestion

TOUCHES = {"s": SLIDE, "h": HAMMER_ON, "p": PULL_OFF}
MAX_CHOKE_SEMITONES = 4
JOINED_HINT = "`+` joins plucks only; a hold or a rest has a slot of its own"
_PLUCK = re.compile(
    r"(?P<finger>[TIM])?(?P<string>\d)(?::(?:(?P<fret>\d{1,2})|(?P<damped>x)))?(?:=(?P<left>[1-4T]))?"
    r"(?P<arrivals>(?:[shp]\d{1,2}(?:=[1-4T])?)*)"
    r"(?:b(?P<choke>\d(?:\.\d)?|\.\d)(?P<release>r)?)?(?P<chime>c)?(?P<vibrato>~)?\Z")
_ARRIVAL = re.compile(r"(?P<touch>[shp])(?P<fret>\d{1,2})(?:=(?P<left>[1-4T]))?")
_LANDING = re.compile(
    r"(?:(?P<string>\d)>)?(?:(?P<touch>[shp])(?P<fret>\d{1,2})(?:=(?P<left>[1-4T]))?"
    r"|b(?P<choke>\d(?:\.\d)?|\.\d)|(?P<release>r))\Z")
Span = tuple[int, int, int]


@dataclass(frozen=True)
class Part:
    """One piece of a strike's word, with its span; a trailing accent is already off."""

    text: str
    span: Span


@dataclass(frozen=True)
class Reach:
    """A landing as written: ``string`` is None where the writer leaves it to the ear."""

    touch: str
    span: Span
    string: int | None = None
    fret: int | None = None
    left: str | None = None
    semitones: Fraction = Fraction(0)


def read_part(part: Part, frame: Lick, faults: Faults) -> Pluck | Reach | None:
    """The pluck or landing a part means under ``frame``'s tuning and capo; None after a fault."""
    match = _PLUCK.match(part.text)
    if match:
        return _pluck(match, part, frame, faults)
    match = _LANDING.match(part.text)
    if match:
        return _reach(match, part, frame, faults)
    sort, hint = ("joined", JOINED_HINT) if part.text in ("-", ".") else suggestion(part.text)
    faults.add_unreadable(part.span, part.text, sort, hint)
    return None


def _pluck(match: re.Match, part: Part, frame: Lick, faults: Faults) -> Pluck | None:
    string_number = int(match["string"])
    if not _string_exists(string_number, match["string"], part, faults):
        return None
    fret = int(match["fret"] or 0)
    pluck = Pluck(
        string=string_number, fret=fret, finger=match["finger"], left=match["left"],
        arrivals=tuple(Arrival(TOUCHES[a["touch"]], int(a["fret"]),
                               a["left"]) for a in _ARRIVAL.finditer(match["arrivals"])),
        choke_semitones=Fraction(match["choke"] or 0), release=bool(match["release"]), chime=bool(match["chime"]),
        vibrato=bool(match["vibrato"]), damped=bool(match["damped"]), place=faults.place(part.span))
    good = _chime_is_right(pluck, part, frame, faults) if pluck.chime else on_the_neck(
        string_number, fret, part.span, frame, faults)
    for before, arrival in zip((fret, *(a.fret for a in pluck.arrivals)), pluck.arrivals, strict=False):
        good = arrives(string_number, before, arrival.fret, arrival.touch, part.span, frame, faults) and good
    last_fret = pluck.arrivals[-1].fret if pluck.arrivals else fret
    if match["choke"]:
        good = choke_is_right(pluck.choke_semitones, last_fret, part.span, faults) and good
    return pluck if good and _damped_is_plain(pluck, part, faults) else None


def _reach(match: re.Match, part: Part, frame: Lick, faults: Faults) -> Reach | None:
    string_number = int(match["string"]) if match["string"] else None
    if string_number is not None and not _string_exists(string_number, match["string"], part, faults):
        return None
    if match["touch"]:
        return Reach(TOUCHES[match["touch"]], part.span, string_number, int(match["fret"]), match["left"])
    if match["release"]:
        return Reach(RELEASE, part.span, string_number)
    return Reach(CHOKE, part.span, string_number, semitones=Fraction(match["choke"]))


def on_the_neck(string_number: int, fret: int, span: Span, frame: Lick, faults: Faults) -> bool:
    """Whether the fret exists on that string; reports where not."""
    last = LAST_FRET - frame.capo
    if fret > last:
        faults.add(span, "off-the-neck", f"there is no fret {fret}: the neck ends at {last}",
                   "a pluck is a string, a colon and a fret, such as `3:2`; with a capo, frets count from it")
        return False
    first = first_short_string_fret(frame.capo, frame.fifth)
    if string_number == SHORT_STRING and 0 < fret < first:
        faults.add(span, "off-the-neck", f"the short string has no fret {fret}: its frets begin at {first}",
                   "frets of the short string count from the nut of the long neck; open it is `5`")
        return False
    return True


def arrives(string_number: int, before: int, fret: int, touch: str, span: Span, frame: Lick, faults: Faults) -> bool:
    """Whether a finger can get from one fret to the other by that touch; reports where not."""
    if not on_the_neck(string_number, fret, span, frame, faults):
        return False
    if touch == SLIDE and (fret == before or fret == 0 or before == 0):
        where = "an open string" if 0 in (fret, before) else f"fret {fret}, where it already is"
        faults.add(span, "slide-goes-nowhere",
                   f"this slide on string {string_number} {'starts from' if before == 0 else 'goes to'} {where}",
                   "a slide goes from one fret to another, such as `3:2s5`")
        return False
    if touch == HAMMER_ON and fret <= before:
        faults.add(span, "hammer-on-goes-down",
                   f"on string {string_number} a hammer-on from fret {before} can't land on fret {fret}",
                   f"a pull-off goes down: `p{fret}`; a hammer-on needs a higher fret")
        return False
    if touch == PULL_OFF and fret >= before:
        faults.add(span, "pull-off-goes-up",
                   f"on string {string_number} a pull-off from fret {before} can't sound fret {fret}",
                   f"a hammer-on goes up: `h{fret}`; a pull-off needs a lower fret")
        return False
    return True


def choke_is_right(semitones: Fraction, fret: int, span: Span, faults: Faults) -> bool:
    if fret == 0:
        faults.add(span, "bad-choke", "an open string can't be choked", "choke a fretted note, such as `2:10b1`")
        return False
    if semitones == 0 or (semitones * 2).denominator != 1 or semitones > MAX_CHOKE_SEMITONES:
        faults.add(span, "bad-choke", f"a choke of {float(semitones):g} half steps can't be played",
                   f"bend by half steps up to {MAX_CHOKE_SEMITONES}, in halves: "
                   "`b1` a half step, `b.5` a quarter step")
        return False
    return True


def _chime_is_right(pluck: Pluck, part: Part, frame: Lick, faults: Faults) -> bool:
    shift = short_string_stop(frame.capo, frame.fifth) - frame.capo if pluck.string == SHORT_STRING else 0
    if pluck.fret - shift in CHIME_NODES and not pluck.arrivals and not pluck.choke_semitones:
        return True
    nodes = listed([str(node + shift) for node in sorted(CHIME_NODES)])
    faults.add(part.span, "bad-chime", f"no chime rings at `{part.text}`",
               f"on this string touch it at {nodes}, and nothing more")
    return False


def _damped_is_plain(pluck: Pluck, part: Part, faults: Faults) -> bool:
    if pluck.damped and (pluck.arrivals or pluck.choke_semitones or pluck.chime or pluck.vibrato):
        faults.add(part.span, "no-such-token", "a damped string has no pitch to bend, slide or shake",
                   f"write `{pluck.string}:x` alone, or a fret in place of the x")
        return False
    return True


def _string_exists(string_number: int, written: str, part: Part, faults: Faults) -> bool:
    if 1 <= string_number <= SHORT_STRING:
        return True
    row, column, _ = part.span
    faults.add((row, column + part.text.index(written), 1), "no-such-string", f"there is no string {string_number}",
               "strings are numbered 1 to 5; 5 is the short string")
    return False
