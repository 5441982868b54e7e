"""The one table of header keys: what each is called, what it may say, how it is read.

Each reader takes the words behind the key (or the list items) and returns the value, or raises
``ValueError``; the message a teacher gets is made from ``allowed`` and ``example``.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from ..model.chord import chord_pitch_classes
from ..model.lick import ROLES, TEMPO_NAMES
from ..model.meter import Meter
from ..model.pitch import midi_of, name_of
from ..model.tuning import LAST_FRET, SHORT_STRING_NUT, TUNINGS, Tuning
from .header import Entry

GRIDS = (4, 8, 16)
METER_UNITS = (2, 4, 8, 16)
MAX_METER_COUNT = 16
TEMPO_RANGE = (20, 400)
BOUNCE_RANGE = (50, 80)
MAX_CAPO = 12
FIRST_SPIKE = SHORT_STRING_NUT + 1
MAX_EXIT = 16
MAX_PICKUP = 31
MAX_TITLE = 120
_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*\Z")
_KEY = re.compile(r"[A-G][#b♯♭]?m?\Z")
MAX_ID = 64
RESERVED_IDS = ("index", "goes-with")
"""The pages of the catalogue and of what goes with what are called so."""


@dataclass(frozen=True)
class Key:
    """``lick``, ``variant`` and ``showing`` say in which of the three the key may stand; ``schema``
    tells an editor (JSON Schema) what the reader takes, as text or as a list of texts.
    """

    name: str
    read: Callable[[Entry], Any]
    allowed: str
    example: str
    schema: Mapping[str, Any]
    lick: bool = True
    variant: bool = True
    showing: bool = False


def read_id(entry: Entry) -> str:
    if not _ID.match(entry.text) or len(entry.text) > MAX_ID:
        raise ValueError(entry.text)
    return entry.text


def title_from(lick_id: str) -> str:
    """The id in words: ``weir-run`` is "Weir run"."""
    words = lick_id.replace("-", " ")
    return words[:1].upper() + words[1:]


def _own_id(entry: Entry) -> str:
    if entry.text in RESERVED_IDS:
        raise ValueError(entry.text)
    return read_id(entry)


def _words(entry: Entry) -> str:
    if not entry.text or len(entry.text) > MAX_TITLE:
        raise ValueError(entry.text)
    return entry.text


def _one_of(*allowed: str) -> Callable[[Entry], str]:
    def read(entry: Entry) -> str:
        if entry.text not in allowed:
            raise ValueError(entry.text)
        return entry.text
    return read


def whole(least: int, most: int) -> Callable[[Entry], int]:
    def read(entry: Entry) -> int:
        if not re.fullmatch(r"\d{1,4}", entry.text, re.ASCII) or not least <= int(entry.text) <= most:
            raise ValueError(entry.text)
        return int(entry.text)
    return read


def _key(entry: Entry) -> str:
    short = re.sub(r"[ ]+minor\Z", "m", re.sub(r"[ ]+major\Z", "", entry.text))
    if not _KEY.match(short):
        raise ValueError(entry.text)
    return short


def _meter(entry: Entry) -> Meter:
    match = re.fullmatch(r"(\d{1,2})/(\d{1,2})", entry.text, re.ASCII)
    if not match or not 1 <= int(match[1]) <= MAX_METER_COUNT or int(match[2]) not in METER_UNITS:
        raise ValueError(entry.text)
    return Meter(int(match[1]), int(match[2]))


def _grid(entry: Entry) -> int:
    return int(_one_of(*map(str, GRIDS))(entry))


def read_tempo(entry: Entry) -> Fraction:
    return _beats(re.sub(r"[ ]*(bpm|BPM)\Z", "", entry.text))


def _beats(text: str) -> Fraction:
    if not re.fullmatch(r"\d{1,3}(?:\.\d{1,2})?", text, re.ASCII):
        raise ValueError(text)
    beats = Fraction(text)
    if not TEMPO_RANGE[0] <= beats <= TEMPO_RANGE[1]:
        raise ValueError(text)
    return beats


@dataclass(frozen=True)
class Pace:
    """One recording's tempo: a share of the full tempo, or beats a minute; the other is None."""

    share: Fraction | None = None
    beats: Fraction | None = None


def _paces(entry: Entry) -> tuple[Pace, ...]:
    items = entry.items if entry.is_list else [part.strip() for part in entry.text.split(",")]
    if len(items) != len(TEMPO_NAMES):
        raise ValueError(entry.text)
    return tuple(_pace(item) for item in items)


def _pace(item: str) -> Pace:
    match = re.fullmatch(r"(\d{1,3})\s*%", item, re.ASCII)
    if not match:
        return Pace(beats=_beats(item))
    if not 20 <= int(match[1]) <= 150:
        raise ValueError(item)
    return Pace(share=Fraction(int(match[1]), 100))


def _tuning(entry: Entry) -> Tuning:
    known = TUNING_SPELLINGS.get(entry.text.lower().replace(" ", ""))
    if known:
        return known
    names = entry.text.split()
    if len(names) != 5:
        raise ValueError(entry.text)
    pitches = tuple(midi_of(name) for name in names)
    if not all(36 <= pitch <= 76 for pitch in pitches):
        raise ValueError(entry.text)
    return next((known for known in TUNINGS.values() if known.pitches == pitches), Tuning(entry.text, pitches))


def _spellings() -> dict[str, Tuning]:
    """Each tuning under its name and under its five letters, without spaces and in small letters."""
    found = {"gmodal": TUNINGS["sawmill"]}
    for tuning in TUNINGS.values():
        found[tuning.name.lower().replace(" ", "")] = tuning
        letters = "".join(name_of(pitch)[:-1] for pitch in tuning.pitches).lower()
        found[letters] = found[letters.replace("a#", "bb")] = tuning
    return found


def _after(entry: Entry) -> str:
    try:
        chord_pitch_classes(entry.text)
        return entry.text
    except ValueError:
        return read_id(entry)


def _bounce(entry: Entry) -> int:
    return whole(*BOUNCE_RANGE)(replace(entry, text=entry.text.removesuffix("%").rstrip()))


def _fifth(entry: Entry) -> int:
    return 0 if entry.text == "0" else whole(FIRST_SPIKE, LAST_FRET)(entry)


def _labels(entry: Entry) -> tuple[str, ...]:
    parts = entry.items if entry.is_list else [part.strip() for part in entry.text.split(",")]
    labels = tuple(part for part in parts if part)
    if not labels or any(len(label) > MAX_TITLE for label in labels):
        raise ValueError(entry.text)
    return labels


def _changes(entry: Entry) -> tuple[str, ...]:
    if not entry.items:
        raise ValueError(entry.text)
    return tuple(entry.items)


def _bars(entry: Entry) -> tuple[int, int]:
    match = re.fullmatch(r"(\d{1,3})(?:\s*-\s*(\d{1,3}))?", entry.text, re.ASCII)
    if not match or int(match[2] or match[1]) < int(match[1]):
        raise ValueError(entry.text)
    return int(match[1]), int(match[2] or match[1])


def _slots(entry: Entry) -> tuple[tuple[int, int], tuple[int, int]]:
    match = re.fullmatch(r"(\d{1,3})\.(\d{1,3})(?:\s*-\s*(\d{1,3})\.(\d{1,3}))?", entry.text, re.ASCII)
    if not match:
        raise ValueError(entry.text)
    first = int(match[1]), int(match[2])
    last = (int(match[3]), int(match[4])) if match[3] else first
    if last < first or first[1] < 1:
        raise ValueError(entry.text)
    return first, last


def like_schema(pattern: str) -> dict[str, Any]:
    return {"type": "string", "pattern": f"^(?:{pattern})$"}


def number_schema(least: int, most: int) -> dict[str, Any]:
    return {"type": ["integer", "string"], "minimum": least, "maximum": most, "pattern": r"^\d{1,4}$"}


TUNING_SPELLINGS = _spellings()
_WORDS = {"type": "string", "minLength": 1, "maxLength": MAX_TITLE}
LIST_SCHEMA = {"type": ["array", "string"], "items": {"type": "string"}, "minItems": 1}
ID_SCHEMA = like_schema(r"[a-z0-9]+(-[a-z0-9]+)*") | {"maxLength": MAX_ID}
_TEMPO_SCHEMA = {"type": ["number", "string"], "minimum": TEMPO_RANGE[0], "maximum": TEMPO_RANGE[1],
                 "pattern": r"^\d{1,3}(\.\d{1,2})?( *(bpm|BPM))?$"}
ID_ALLOWED = "small letters, digits and `-` between them"
KEYS = (
    Key("id", _own_id, ID_ALLOWED + ", but not " + ", ".join(f"`{word}`" for word in RESERVED_IDS), "weir-run",
        ID_SCHEMA | {"not": {"enum": list(RESERVED_IDS)}}),
    Key("title", _words, f"a few words, at most {MAX_TITLE} letters", "Weir run", _WORDS, showing=True),
    Key("role", _one_of(*ROLES), "one of " + ", ".join(ROLES), "tag", {"enum": list(ROLES)}),
    Key("key", _key, "a key such as G, Gm, D or Bb", "G", like_schema("[A-G][#b♯♭]?(m| minor| major)?")),
    Key("meter", _meter, "a meter such as 4/4, 2/2, 3/4 or 6/8", "4/4", like_schema(r"\d{1,2}/(2|4|8|16)"),
        variant=False),
    Key("grid", _grid, "4, 8 or 16, the note value of one slot", "8",
        {"enum": [*GRIDS, *map(str, GRIDS)]}, variant=False),
    Key("pickup", whole(0, MAX_PICKUP), "how many slots the short first bar has", "2", number_schema(0, MAX_PICKUP),
        variant=False),
    Key("tempo", read_tempo, "beats a minute, from {} to {}".format(*TEMPO_RANGE), "208", _TEMPO_SCHEMA,
        showing=True),
    Key("tempos", _paces, "three rising tempos, as percentages or beats a minute", "[50 %, 75 %, 100 %]",
        LIST_SCHEMA | {"minItems": len(TEMPO_NAMES), "maxItems": len(TEMPO_NAMES)}, showing=True),
    Key("bounce", _bounce, "from {} (even) to {}, the first eighth's percentage".format(*BOUNCE_RANGE), "60",
        number_schema(*BOUNCE_RANGE) | {"pattern": "^\\d{2} ?%?$"}),
    Key("tuning", _tuning, "one of " + ", ".join(TUNINGS) + ", or five pitches from the 5th string to the 1st",
        "G4 D3 G3 B3 D4", {"anyOf": [{"enum": list(TUNINGS)}, like_schema("[A-Ga-g#b ]{5,9}"),
                                     like_schema(r"[A-G][#b]?\d( [A-G][#b]?\d){4}")]}),
    Key("capo", whole(0, MAX_CAPO), f"a fret from 0 to {MAX_CAPO}", "2", number_schema(0, MAX_CAPO)),
    Key("fifth", _fifth,
        f"0 where the short string is not raised, else the fret it is raised to, from {FIRST_SPIKE} to {LAST_FRET}",
        "7", {"anyOf": [number_schema(0, 0), number_schema(FIRST_SPIKE, LAST_FRET)]}),
    Key("exit", whole(0, MAX_EXIT), "how many bars at the end are only a way out", "1", number_schema(0, MAX_EXIT)),
    Key("after", _after, "a chord such as D7, or the id of a lick", "D7", {"type": "string", "minLength": 1}),
    Key("labels", _labels, "words to find it by", "[bluesy, driving]", LIST_SCHEMA),
    Key("rights", _words, "where it comes from: own, traditional, or a licence", "own", _WORDS),
    Key("show", read_id, "the id of a lick, " + ID_ALLOWED, "weir-run", ID_SCHEMA,
        lick=False, variant=False, showing=True),
    Key("bars", _bars, "a bar, or first and last with `-` between", "1-2",
        {"type": ["integer", "string"], "pattern": r"^\d{1,3}( *- *\d{1,3})?$"}, lick=False, variant=False,
        showing=True),
    Key("slots", _slots, "first and last slot, each as bar, dot and slot, with `-` between", "1.1-1.4",
        like_schema(r"\d{1,3}\.\d{1,3}( *- *\d{1,3}\.\d{1,3})?"), lick=False, variant=False, showing=True),
    Key("from", read_id, "the id of the lick it is a variant of, " + ID_ALLOWED, "weir-run", ID_SCHEMA, lick=False),
    Key("change", _changes, "a list of changes, one a line after `- `", "[1:2 -> 1:3]", LIST_SCHEMA, lick=False),
)
KEY_NAMES = tuple(key.name for key in KEYS)
BY_NAME = {key.name: key for key in KEYS}
