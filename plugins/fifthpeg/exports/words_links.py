"""The links of a chain in words: where each begins, and how the hand gets over the seam to it."""

from collections.abc import Iterator

from ..model.findings import CLASH, CLEAN, TIGHT, Findings, Join, Seam
from ..model.lick import Lick
from .links import LinkPlace, link_places
from .words_hands import beats, fingers_pick


def link_sentences(lick: Lick, findings: Findings | None) -> dict[int, list[tuple[int, tuple[str, ...]]]]:
    """Bar index -> (slot index, sentences without capitals and stops) for each link that comes in there."""
    seams = {seam.link: seam for seam in findings.seams} if findings else {}
    found: dict[int, list[tuple[int, tuple[str, ...]]]] = {}
    for place in link_places(lick):
        said = (_name(place), *_seam_sentences(seams.get(place.number - 1) if place.begins else None))
        found.setdefault(place.bar_index, []).append((place.slot_index, said))
    return found


def _name(place: LinkPlace) -> str:
    title = place.link.title or place.link.id or f"link {place.number + 1}"
    return f"here {title} begins" if place.begins else f"from the middle of {title}"


def _seam_sentences(seam: Seam | None) -> Iterator[str]:
    """A clean seam needs no word; one made clean says how."""
    if seam is None:
        return
    if seam.repair is not None:
        yield f"repaired at this seam: {seam.repair.says}"
    if seam.join.verdict != CLEAN:
        yield _verdict(seam.join)


def _verdict(join: Join) -> str:
    said = f"{join.verdict}: {fingers_pick(join.fingers)} twice in a row"
    if join.clashes_above is None:
        return said
    return said + {CLASH: f", as at any tempo above {beats(join.clashes_above)}",
                   TIGHT: f", a clash above {beats(join.clashes_above)}"}[join.verdict]
