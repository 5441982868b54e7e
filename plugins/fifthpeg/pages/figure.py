"""One tab on a page: caption, drawing, room for the player, recordings, downloads."""

from ..compiled import SmallTab
from ..model.lick import TEMPO_NAMES, Lick
from . import words
from .addresses import relative, wav_ending
from .html import link, script_json, text
from .published import Published

DOWNLOADS = {".svg": "Tab as a picture (SVG)", ".mid": "MIDI", ".musicxml": "MusicXML", ".json": "Every note as data (JSON)"}
DOWNLOADS |= {wav_ending(name): f"{name.capitalize()} (WAV)" for name in TEMPO_NAMES}
COUNTED = "after one counted bar"


def figure(tab: Published, element_id: str, page_url: str, lick_url: str = "") -> str:
    """``lick_url`` is the lick's own page, from the site's root; empty where there is none to go to."""
    lick = tab.lick
    return (
        f'<figure class="fp-tab" id="{text(element_id)}"{_kin(lick)}'
        f' data-fp-bank="{text(relative(tab.bank_folder, page_url))}">'
        f'<figcaption class="fp-caption">{_caption(lick, page_url, lick_url)}</figcaption>'
        f'<div class="fp-drawing" role="img" aria-label="{text(_label(lick))}"'
        f' aria-describedby="{text(element_id)}-in-words">{tab.inline}</div>'
        f'<p id="{text(element_id)}-in-words" hidden>{text(" ".join(tab.words))}</p>'
        '<div class="fp-player" hidden></div>'
        '<div class="fp-folds">'
        f"{_recordings(tab, page_url)}"
        '<details class="fp-fold"><summary>Files to keep</summary>'
        f'<ul class="fp-downloads">{_downloads(tab, page_url)}</ul></details>'
        f'<details class="fp-words fp-fold"><summary>In words</summary>'
        f'<div>{_words(tab)}</div></details></div>'
        f'<script type="application/json" class="fp-data">{script_json(tab.player)}</script>'
        "</figure>"
    )


def small_figure(small: SmallTab, element_id: str, bank_url: str) -> str:
    """A tab to see and to hear in the player only: it has no recordings and no files."""
    return (
        f'<figure class="fp-tab" id="{text(element_id)}" data-fp-bank="{text(bank_url)}">'
        f'<figcaption class="fp-caption">{text(small.title)}</figcaption>'
        f'<div class="fp-drawing" role="img" aria-label="{text(f"Tab: {small.title}")}"'
        f' aria-describedby="{text(element_id)}-in-words">{small.inline}</div>'
        f'<p id="{text(element_id)}-in-words" hidden>{text(" ".join(small.words))}</p>'
        '<div class="fp-player" hidden></div><div class="fp-folds">'
        '<details class="fp-words fp-fold"><summary>In words</summary>'
        f'<div>{"".join(f"<p>{text(bar)}</p>" for bar in small.words)}</div></details></div>'
        f'<script type="application/json" class="fp-data">{script_json(small.player)}</script>'
        "</figure>"
    )


def title_of(lick: Lick) -> str:
    """What a tab is called: its title, else its id in words, else nothing."""
    return lick.title or (lick.id or "").replace("-", " ").capitalize()


def _kin(lick: Lick) -> str:
    """Which lick is shown and which it varies, where all of it is: by these the player changes over."""
    if lick.shown_bars is not None:
        return ""
    named = {"data-fp-lick": lick.id or lick.shows, "data-fp-varies": lick.varies}
    return "".join(f' {name}="{text(value)}"' for name, value in named.items() if value)


def _caption(lick: Lick, page_url: str, lick_url: str) -> str:
    title = title_of(lick)
    named = link(title, relative(lick_url, page_url)) if lick_url and title else f"<strong>{text(title)}</strong>"
    facts = f"{_part(lick)}key of {text(words.key(lick))}, {words.full_tempo(lick)}"
    facts += f", {text(words.set_up(lick))}" if words.set_up(lick) else ""
    facts += ", changes underlined" if _shows_changes(lick) else ""
    return f"{named} · {facts}" if title else facts[:1].upper() + facts[1:]


def _shows_changes(lick: Lick) -> bool:
    changed = set(lick.changed)
    return bool(changed) and any((bar.number, bar.first_slot_index + slot) in changed
                                 for bar in lick.bars for slot in range(1, bar.slot_count + 1))


def _part(lick: Lick) -> str:
    """Which bars a showing picked out, unless its title says so."""
    numbers = lick.shown_bars
    if numbers is None:
        return ""
    part = _bar_range(numbers)
    if part in lick.title.lower():
        return ""
    return f"part of {part} · " if any(map(lick.is_cut, lick.bars)) else f"{part} · "


def _bar_range(numbers: tuple[int, ...]) -> str:
    if numbers[0] == 0:
        rest = f"bars 1 to {numbers[-1]}" if len(numbers) > 2 else "bar 1"
        return f"the pick-up and {rest}" if len(numbers) > 1 else "the pick-up"
    return f"bar {numbers[0]}" if len(numbers) == 1 else f"bars {numbers[0]} to {numbers[-1]}"


def _label(lick: Lick) -> str:
    """Short: the notes are under "In words", and a folded description is read by nobody, an open one twice."""
    title = title_of(lick)
    return f"Tab{' of ' + title if title else ''}: {words.bars(lick)} of {lick.meter}, key of {lick.key}"


def _recordings(tab: Published, page_url: str) -> str:
    """Those that were made; nothing where none was. Each is named for the ear on its own, the counted bar with it."""
    title = title_of(tab.lick) or "Tab"
    counted = tab.facts.count_in_recordings
    heard = f", {COUNTED}" if counted else ""
    rows = "".join(
        f"<div><span>{name.capitalize()}, {words.beats(beats)}</span>"
        f'<audio controls preload="none" aria-label="{text(f"{title}, {name}{heard}")}"'
        f' src="{text(relative(tab.address.file(wav_ending(name)), page_url))}"></audio></div>'
        for name, beats in words.tempos(tab.lick) if name in tab.facts.recordings
    )
    heading = f"<p>{COUNTED.capitalize()}:</p>" if counted else ""
    return (f'<details class="fp-fold fp-heard"><summary>Recordings</summary><div class="fp-recordings">{heading}{rows}</div>'
            '</details>' if rows else "")


def _words(tab: Published) -> str:
    return "".join(f"<p>{text(bar)}</p>" for bar in tab.words)


def _downloads(tab: Published, page_url: str) -> str:
    return "".join(
        f'<li><a href="{text(relative(tab.address.file(ending), page_url))}" download>{DOWNLOADS[ending]}</a></li>'
        for ending in tab.endings
    )
