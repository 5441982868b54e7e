"""The tables of header keys of ``chain`` and ``fit`` blocks, and what a link or ``with`` may say inside."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ..model.chain import MAX_LINKS, REPAIR_NAMES
from ..model.chord import chord_pitch_classes
from .header import Entry
from .keys import BY_NAME, ID_ALLOWED, ID_SCHEMA, LIST_SCHEMA, Key, number_schema, read_id, whole
from .messages import listed, nearest
from .pieces import Piece, Slip, Slips, brace_pairs

MAX_FILL = 64
MAX_MOST = 64
LINK_EXAMPLE = "{id: sluice-tag, bars: 1-2, repair: hold}"
WITH_EXAMPLE = "{role: tag}"
Span = tuple[int, int, int]


@dataclass(frozen=True)
class AskedLink:
    """A link as the block names it; ``span`` is the whole of it."""

    id: str
    span: Span
    id_span: Span
    bars: tuple[int, int] | None = None
    bars_span: Span = (0, 0, 1)
    repair: str | None = None


@dataclass(frozen=True)
class Within:
    """What a fit may be made of; ``ids`` with the span of each."""

    roles: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()
    labels: tuple[str, ...] = ()
    ids: tuple[tuple[str, Span], ...] = ()


def _read_links(entry: Entry) -> tuple[AskedLink, ...]:
    pieces = entry.pieces
    if not pieces:
        raise ValueError(entry.text)
    links = _all_of(pieces[:MAX_LINKS], _read_link)
    if len(pieces) > MAX_LINKS:
        raise Slips(Slip(pieces[MAX_LINKS].span, "bad-value",
                         f"this chain has {len(pieces)} links; {MAX_LINKS} are the most",
                         "make a chain of some of them, and use that as a link"))
    return tuple(links)


def _all_of(pieces: Sequence[Piece], read: Callable[[Piece], Any]) -> list[Any]:
    """Each piece read. Raises Slips with those of all of them."""
    found, slips = [], []
    for piece in pieces:
        try:
            found.append(read(piece))
        except Slips as wrong:
            slips += wrong.slips
    if slips:
        raise Slips(*slips)
    return found


def _read_link(piece: Piece) -> AskedLink:
    if not piece.text.startswith("{"):
        return AskedLink(_piece_id(piece), piece.span, piece.span)
    said = _by_key(brace_pairs(piece, LINK_EXAMPLE), LINK_KEYS, "a link")
    if "id" not in said:
        raise Slips(Slip(piece.span, "bad-value", "this link has no id",
                         f"say which lick it is, such as `{LINK_EXAMPLE}`"))
    bars, bars_span = said.get("bars", (None, (0, 0, 1)))
    return AskedLink(said["id"][0], piece.span, said["id"][1], bars, bars_span, said.get("repair", (None,))[0])


def _by_key(pairs: Sequence[tuple[Piece, Piece]], keys: Sequence[Key], what: str) -> dict[str, tuple[Any, Span]]:
    """Value and span by key. Raises Slips."""
    known = {key.name: key for key in keys}

    def read(pair: tuple[Piece, Piece]) -> tuple[str, tuple[Any, Span]]:
        name, value = pair
        if name.text not in known:
            like = nearest(name.text, tuple(known))
            raise Slips(Slip(name.span, "unknown-key", f"{what} has no key `{name.text}`",
                             f"do you mean `{like}`?" if like else f"it knows {listed(tuple(known), 'and')}"))
        if not value.text:
            raise Slips(Slip(name.span, "bad-value", f"`{name.text}` says nothing",
                             f"it takes {known[name.text].allowed}"))
        return name.text, (_read_value(known[name.text], value), value.span)

    return dict(_all_of(pairs, read))


def _read_value(key: Key, piece: Piece) -> Any:
    try:
        return key.read(Entry(key.name, piece.span, piece.text, piece.span))
    except Slips:
        raise
    except ValueError:
        raise Slips(Slip(piece.span, "bad-value", f"`{key.name}` can't be `{piece.text}`",
                         f"it takes {key.allowed}; for example `{key.name}: {key.example}`")) from None


def _piece_id(piece: Piece) -> str:
    try:
        return read_id(Entry("", piece.span, piece.text))
    except ValueError:
        raise Slips(Slip(piece.span, "bad-value", f"`{piece.text}` is no id", _id_hint(piece.text))) from None


def _id_hint(text: str) -> str:
    if text.split(":")[0].strip() in ("id", "bars", "repair") and ":" in text:
        return f"put a link that says more than its id in braces: `{LINK_EXAMPLE}`"
    return f"an id is made of {ID_ALLOWED}, such as `weir-run`"


def _read_repair(entry: Entry) -> str:
    if entry.text not in REPAIR_NAMES:
        like = nearest(entry.text, REPAIR_NAMES)
        raise Slips(Slip(entry.span, "bad-value", f"there is no repair called `{entry.text}`",
                         f"{f'do you mean `{like}`? ' if like else ''}the repairs are {listed(REPAIR_NAMES, 'and')}"))
    return entry.text


def _read_yes_no(entry: Entry) -> bool:
    if entry.text not in ("yes", "no"):
        raise ValueError(entry.text)
    return entry.text == "yes"


def _read_chord(entry: Entry) -> str:
    chord_pitch_classes(entry.text)
    return entry.text


def _read_with(entry: Entry) -> Within:
    pieces = entry.pieces
    if not pieces:
        raise ValueError(entry.text)
    if entry.is_list or not pieces[0].text.startswith("{"):
        return Within(ids=tuple(_all_of(pieces, lambda piece: (_piece_id(piece), piece.span))))
    said = _by_key(brace_pairs(Piece(entry.text, entry.span), WITH_EXAMPLE), WITH_KEYS, "`with`")
    return Within(*(said.get(key.name, ((),))[0] for key in WITH_KEYS))


def _several(key: Key) -> Callable[[Entry], tuple[str, ...]]:
    """Reads one value, or some in brackets."""
    def read(entry: Entry) -> tuple[str, ...]:
        pieces = entry.pieces
        if not pieces:
            raise ValueError(entry.text)
        return tuple(_all_of(pieces, lambda piece: _read_value(key, piece)))
    return read


def _label(entry: Entry) -> str:
    return BY_NAME["labels"].read(entry)[0]


_YES_NO = {"enum": ["yes", "no", True, False]}
_CHORD_SCHEMA = {"type": "string", "minLength": 1}
_SOME = {"type": ["string", "array"], "items": {"type": "string"}, "minItems": 1}
LINK_KEYS = (
    Key("id", read_id, "the id of a lick or chain, " + ID_ALLOWED, "sluice-tag", ID_SCHEMA),
    replace(BY_NAME["bars"], lick=True),
    Key("repair", _read_repair, "one of " + ", ".join(REPAIR_NAMES), "hold", {"enum": list(REPAIR_NAMES)}),
)
WITH_KEYS = tuple(
    replace(key, read=_several(key), schema=_SOME) for key in (
        BY_NAME["role"], BY_NAME["key"], Key("label", _label, "a word that licks are found by", "driving", _SOME)))
_LINK_SCHEMA = {"anyOf": [
    {"type": "string", "minLength": 1},
    {"type": "object", "properties": {key.name: key.schema for key in LINK_KEYS}, "required": ["id"],
     "additionalProperties": False}]}
_WITH_SCHEMA = {
    "type": ["object", "array", "string"], "properties": {key.name: key.schema for key in WITH_KEYS},
    "additionalProperties": False, "items": {"type": "string"}, "minItems": 1, "minLength": 1}
CHAIN_KEYS = (
    BY_NAME["id"], BY_NAME["title"], BY_NAME["role"], BY_NAME["key"],
    Key("links", _read_links, f"ids of licks or chains, at most {MAX_LINKS}", "[weir-run, sluice-tag]",
        LIST_SCHEMA | {"items": _LINK_SCHEMA, "maxItems": MAX_LINKS, "minLength": 1}),
    BY_NAME["tempo"], BY_NAME["tempos"], BY_NAME["bounce"], BY_NAME["after"], BY_NAME["labels"], BY_NAME["rights"],
    Key("exit", _read_yes_no, "yes or no: whether the last link keeps its exit", "no", _YES_NO),
    Key("loop", _read_yes_no, "yes or no: whether it is meant to be looped", "yes", _YES_NO),
    Key("context", _read_yes_no, "yes or no: whether it is heard after what it is meant to follow", "yes", _YES_NO),
)
FIT_KEYS = (
    Key("fill", whole(1, MAX_FILL), f"how many bars, from 1 to {MAX_FILL}", "6", number_schema(1, MAX_FILL)),
    Key("over", _read_chord, "a chord such as G or D7", "G", _CHORD_SCHEMA),
    BY_NAME["after"],
    Key("with", _read_with,
        f"what it may be made of: `{WITH_EXAMPLE}`, `{{label: [driving, bluesy], key: G}}`, or ids",
        "[weir-run, sluice-tag]", _WITH_SCHEMA),
    Key("most", whole(1, MAX_MOST), f"how many chains to show, from 1 to {MAX_MOST}", "5",
        number_schema(1, MAX_MOST)),
    BY_NAME["tempo"], BY_NAME["bounce"], BY_NAME["title"],
)
