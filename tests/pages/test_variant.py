"""What a variant's page says about its parent, and the parent's about its variants."""

import json
from dataclasses import replace

import pytest
from fifthpeg.exports.words_cells import cell_words
from fifthpeg.pages.catalogue import catalogue_markdown
from fifthpeg.pages.extras import PARENTS_LINE
from fifthpeg.pages.generated import generated_pages, lick_spots
from fifthpeg.pages.library_file import library_bytes
from fifthpeg.pages.published import Published
from fifthpeg.pages.variant import differences
from tests.exports.score import with_some_fingers
from tests.pages.made import published
from tests.written import licks_of

EIGHT = "T3 I2 M1 T5 I2 M1 T3 M1"
PARENT = f"id: weir\ntitle: Weir\ntempo: 160\n---\n[G] {EIGHT} | [D7] T3:2 - (1 2 3)/2 . I2 T3 M1"


def family(*changes: str, header: str = "") -> tuple[Published, Published]:
    """(variant, parent)"""
    listed = "change:\n" + "\n".join(f"  - {change}" for change in changes) if changes else ""
    parent, variant = licks_of(PARENT, f"id: dark\nfrom: weir\ntitle: Dark weir\n{header}{listed}")
    return with_cells(variant), with_cells(parent)


def with_cells(lick) -> Published:
    return replace(published(lick), cells=cell_words(lick, with_some_fingers(lick)))


def told(*changes: str, header: str = "") -> list[str]:
    return list(differences(*family(*changes, header=header)))


@pytest.mark.parametrize("change, says", [
    ("3:2 -> 3:3", "bar 2, beat 1: thumb, string 3, fret 3, in place of thumb, string 3, fret 2"),
    ("bar 1 slot 2: I2:1", "bar 1, the and of beat 1: index, string 2, fret 1, in place of index, string 2 open"),
    ("bar 1 slot 3: -", "bar 1, beat 2: held on, in place of middle, string 1 open"),
    ("bar 2 slot 2: I2", "bar 2, the and of beat 1: index, string 2 open, in place of a hold"),
    ("bar 2 slot 5: T3", "bar 2, beat 3: thumb, string 3 open, in place of a rest"),
    ("bar 2 slot 6: 2", "bar 2, the and of beat 3: index, string 2 open, written another way"),
    ("after bar 1: T3 - - - - - - -", "bar 2 is new"),
    ("bar 1: gone", "bar 1 of Weir is left out"),
    (f"bar 1: [C] {EIGHT}", "bar 1: C from slot 1 in place of G from slot 1"),
    (f'bar 1: "slowly" {EIGHT}', "bar 1: other words above"),
])
def test_each_kind_of_change_is_told(change, says):
    assert told(change) == [says]


def test_a_group_is_told_slot_by_slot_of_what_stands_there_now():
    assert told("bar 2: T3:2 - M1 I2 . I2 T3 M1") == [
        "bar 2, beat 2: middle, string 1 open, in place of three in two slots: middle, string 1 open, "
        "then index, string 2 open, then thumb, string 3 open",
        "bar 2, the and of beat 2: index, string 2 open, in place of the end of three in two slots: "
        "middle, string 1 open, then index, string 2 open, then thumb, string 3 open"]


def test_what_a_group_covers_is_told_together():
    assert told(f"bar 1: (T3 I2 M1)/2 {EIGHT[6:]}") == [
        "bar 1, beat 1: three in two slots: thumb, string 3 open, then index, string 2 open, then middle, string 1 open, "
        "in place of thumb, string 3 open, then index, string 2 open"]


def test_a_bar_that_moved_is_named_by_both_its_numbers():
    assert told("bar 1: gone", "3:2 -> 3:3") == [
        "bar 1 (bar 2 of Weir), beat 1: thumb, string 3, fret 3, in place of thumb, string 3, fret 2",
        "bar 1 of Weir is left out"]


def test_another_tempo_is_told():
    assert told(header="tempo: 120\n") == ["full tempo: 120 beats a minute in place of 160 beats a minute"]


@pytest.fixture
def pages() -> dict[str, str]:
    return generated_pages(family("3:2 -> 3:3"), {}, True)


def test_a_variant_s_page_links_its_parent_and_shows_its_tab_below_its_own(pages):
    page = pages["licks/dark.md"]
    assert "A variant of [Weir](weir.md)." in page
    own, parents = page.index('data-fp-slot="licks/dark.md:0"'), page.index('data-fp-slot="licks/dark.md:1"')
    assert own < page.index("Bar 2&#44; beat 1") < parents


def test_a_parent_s_page_lists_its_variants_and_shows_no_other_tab(pages):
    assert "## Variants\n\n- [Dark weir](dark.md)" in pages["licks/weir.md"]
    assert pages["licks/weir.md"].count("data-fp-slot") == 1


def test_the_slots_of_a_variant_s_page_hold_it_and_its_parent():
    variant, parent = family("3:2 -> 3:3")
    spots = lick_spots([variant, parent])
    assert spots["licks/dark.md", 0] is variant and spots["licks/dark.md", PARENTS_LINE] is parent
    assert ("licks/weir.md", PARENTS_LINE) not in spots


def test_the_catalogue_names_the_parent():
    markdown = catalogue_markdown(family("3:2 -> 3:3"), True)
    assert markdown.count("variant of Weir") == 1


def test_the_library_says_what_varies_what():
    urls = {"dark": "licks/dark/", "weir": "licks/weir/"}
    licks = json.loads(library_bytes(family("3:2 -> 3:3"), urls, {}))["licks"]
    assert {lick["id"]: lick["varies"] for lick in licks} == {"dark": "weir", "weir": None}
