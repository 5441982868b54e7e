"""What a variant does otherwise than its parent, in words, and the sections of lick pages that say so."""

from collections.abc import Iterator, Sequence
from urllib.parse import quote

from ..model.cell_words import HELD, SILENT, CellWords
from ..model.lick import Lick
from ..model.tab import Bar
from . import words
from .figure import title_of
from .html import markdown_text
from .places import bar_name
from .published import Published

NOTHING = "No note, chord or tempo differs."
AS_THINGS = {HELD: "a hold", SILENT: "a rest"}
MARKED = "What changed is underlined in the drawing."


def variant_section(variant: Published, parent: Published, parent_slot: str) -> str:
    """Markdown; ``parent_slot`` is the placeholder of the parent's drawing."""
    changes = list(differences(variant, parent)) or [NOTHING]
    lines = "\n".join(f"- {markdown_text(change[:1].upper() + change[1:])}" for change in changes)
    marked = f" {MARKED}" if variant.lick.changed else ""
    return (f"## What it changes\n\nA variant of {_page_link(parent)}.{marked}\n\n{lines}\n\n"
            f"## The lick it varies\n\n{parent_slot}\n\n")


def variants_list(variants: Sequence[Published]) -> str:
    """Markdown for the parent's page; nothing where it has no variant."""
    if not variants:
        return ""
    return "## Variants\n\n" + "\n".join(f"- {_page_link(variant)}" for variant in variants) + "\n\n"


def differences(variant: Published, parent: Published) -> Iterator[str]:
    """One sentence's worth each, bars in the variant's order; none is escaped."""
    yield from _header_differences(variant.lick, parent.lick)
    before = {bar.number: bar for bar in parent.lick.bars}
    for bar, number in zip(variant.lick.bars, variant.lick.parent_bars, strict=True):
        if number is None:
            yield f"{bar_name(bar.number)} is new"
            continue
        named = bar_name(bar.number)
        if number != bar.number:
            named += f" ({bar_name(number)} of {title_of(parent.lick)})"
        yield from _cell_differences(bar.number, number, named, variant, parent)
        yield from (f"{named}: {said}" for said in _sign_differences(bar, before[number]))
    for gone in sorted(set(before) - set(variant.lick.parent_bars)):
        yield f"{bar_name(gone)} of {title_of(parent.lick)} is left out"


def _cell_differences(number: int, parent_number: int, named: str, variant: Published,
                      parent: Published) -> Iterator[str]:
    changed = {slot for bar, slot in variant.lick.changed if bar == number}
    old = [cell for cell in parent.cells if cell.bar == parent_number]
    for cell in variant.cells:
        if cell.bar == number and cell.slot in changed:
            before = _in_place(cell, old)
            replaced = "written another way" if before == cell.says else f"in place of {AS_THINGS.get(before, before)}"
            yield f"{named}, {cell.place}: {cell.says}, {replaced}"


def _in_place(cell: CellWords, old: Sequence[CellWords]) -> str:
    """What the parent has in the slots of a cell; a group that begins before them is there with its rest."""
    covered = [was for was in old if was.slot < cell.slot + cell.slots and cell.slot < was.slot + was.slots]
    return ", then ".join(f"the end of {was.says}" if was.slot < cell.slot else was.says for was in covered)


def _sign_differences(bar: Bar, old: Bar) -> Iterator[str]:
    if bar.chords != old.chords:
        yield f"{_chords(bar)} in place of {_chords(old)}"
    if bar.texts != old.texts:
        yield "other words above"
    signs = [(each.opens_repeat, each.repeat_times, each.ending) for each in (bar, old)]
    if signs[0] != signs[1]:
        yield "other repeat signs"


def _chords(bar: Bar) -> str:
    """Chord names with their slots, since the same names may have moved."""
    return words.listed(tuple(f"{name} from slot {index + 1}" for index, name in bar.chords)) or "no chord"


def _header_differences(lick: Lick, parent: Lick) -> Iterator[str]:
    for name, said in (("full tempo", lambda one: words.beats(one.tempo)), ("key", lambda one: one.key),
                       ("tuning", words.tuning), ("bounce", lambda one: f"{one.bounce} %")):
        if said(lick) != said(parent):
            yield f"{name}: {said(lick)} in place of {said(parent)}"


def _page_link(tab: Published) -> str:
    return f"[{markdown_text(title_of(tab.lick))}]({quote(tab.lick.id or '')}.md)"
