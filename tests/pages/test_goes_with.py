"""Who may stand beside whom: the lists on the licks' pages, and the table of the whole library."""

import re

import pytest

from fifthpeg.compiled import Facts, Neighbours
from fifthpeg.model.findings import CLASH, CLEAN, TIGHT, Join, Repair
from fifthpeg.model.harmony import Harmony, Stretch
from fifthpeg.pages import company as limits
from fifthpeg.pages.company import Company
from fifthpeg.pages.generated import generated_files, generated_pages
from fifthpeg.pages.goes_with import MOST_IN_PAIRS, goes_with_markdown, goes_with_style
from fifthpeg.pages.nav import expand_nav
from fifthpeg.pages.neighbours_section import neighbours_section
from tests.pages.made import tab
from tests.pages.test_pages import parsed

HOLD, PINCH = Repair("hold", "hold the G"), Repair("pinch", "pinch with the thumb")
IDS = ("a", "b", "c", "d")
ROWS = ("012-", "0000", "1111", "---0")
JOINS = {"a b": Join(TIGHT, ("T",), 5.5, 246.0, (HOLD,)), "a c": Join(CLASH, ("M",), 6.93, 195.0, (HOLD, PINCH))}


def made(lick_id: str, role: str = "lick", chord: str = "G", after: str = ""):
    over = Harmony((Stretch(chord, 1, 0),), after or None, (), ())
    header = f"id: {lick_id}\nrole: {role}" + (f"\nafter: {after}" if after else "")
    return tab(header, Facts(harmony=over))


TABS = [made("a"), made("b", "tag", "D7"), made("c", "tag"), made("d", after="G")]
COMPANY = Company(TABS, Neighbours(IDS, ROWS, JOINS))


def body(markdown: str):
    return parsed(re.sub(r"^## .*$", "", markdown, flags=re.MULTILINE))


def many(count: int) -> Company:
    ids = tuple(f"l{number}" for number in range(count))
    return Company([made(lick_id) for lick_id in ids], Neighbours(ids, ("0" * count,) * count))


def test_others_are_counted_by_verdict():
    assert COMPANY.after(TABS[0]).counts == {CLEAN: 1, TIGHT: 1, CLASH: 1, None: 1}
    assert COMPANY.before(TABS[0]).counts == {CLEAN: 2, TIGHT: 1, CLASH: 0, None: 1}


def test_those_meant_to_follow_come_first():
    company = Company(TABS, Neighbours(IDS, ("0000",) * 4))
    assert [other.lick.id for other in company.after(TABS[0]).listed[CLEAN]] == ["d", "a", "b", "c"]


def test_those_that_end_on_the_chord_it_wants_come_first_before_it():
    company = Company(TABS, Neighbours(IDS, ("0000",) * 4))
    assert [other.lick.id for other in company.before(TABS[3]).listed[CLEAN]] == ["a", "c", "d", "b"]


def test_every_cell_of_the_table_leads_to_a_place_that_speaks_of_the_pair():
    pages = generated_pages(TABS, {}, True, COMPANY.neighbours)
    links = re.findall(r'<td[^>]*><a href="\.\./([a-z]+)/#([^"]+)"', pages["licks/goes-with.md"])
    assert len(links) == 12
    assert all(f'id="{place}"' in pages[f"licks/{lick_id}.md"] for lick_id, place in links)


def test_a_seam_is_said_in_full_with_its_finger_speed_and_repairs():
    said = "".join(body(neighbours_section(COMPANY, TABS[0], True)).itertext())
    assert "Clash: middle picks twice in a row, 6.9 times a second" in said and "pinch: Pinch with the thumb." in said


def test_what_mends_several_seams_is_said_once():
    joins = {f"a {other}": Join(CLASH, ("M",), 6.93, 195.0, (HOLD,)) for other in "abc"}
    company = Company(TABS, Neighbours(IDS, ("222-",) * 4, joins))
    assert neighbours_section(company, TABS[0], True).count("Hold the G.") == 1


def test_the_page_before_is_where_an_unclean_seam_is_said():
    assert '<a href="../a/#after.c">' in neighbours_section(COMPANY, TABS[2], True)


def test_a_long_list_is_folded_behind_its_first_names():
    section = neighbours_section(many(12), made("l0"), True)
    assert section.count("<details") == 2 and "4 more" in section


def test_a_lick_that_fits_nowhere_says_so():
    alone = Company([made("a")], Neighbours(("a",), ("-",)))
    assert "No lick of this library" in neighbours_section(alone, alone.tabs[0], True)


def test_in_a_very_large_library_lists_are_cut_and_say_by_how_much(monkeypatch):
    monkeypatch.setattr(limits, "LISTED_IN_FULL", 10)
    section = neighbours_section(many(30), made("l0"), True)
    assert section.count('<li id="after.') == limits.MOST_LISTED[CLEAN] and "And 6 more cleanly" in section


@pytest.mark.parametrize("count", [4, MOST_IN_PAIRS, MOST_IN_PAIRS + 1])
def test_the_table_is_html_without_a_fault_and_is_headed_both_ways(count):
    table = parsed(goes_with_markdown(many(count), True).split("\n\n", 2)[2])
    heads = [head.get("scope") for head in table.iter("th")]
    assert heads.count("row") == count
    assert heads.count("col") == 1 + (count if count <= MOST_IN_PAIRS else 1)


def test_a_verdict_is_a_word_and_never_a_colour_alone():
    table = parsed(goes_with_markdown(COMPANY, True).split("\n\n", 2)[2])
    words = {"".join(cell.itertext()) for cell in table.iter("td")}
    assert words == {"clean", "tight", "clash", "apart"}


def test_the_table_scrolls_in_a_box_that_the_keyboard_reaches():
    """WCAG 2.2, 2.1.1 and 1.4.10."""
    box = next(box for box in parsed(goes_with_markdown(COMPANY, True).split("\n\n", 2)[2]).iter("div")
               if box.get("class") == "fp-scroll")
    assert box.get("tabindex") == "0" and box.get("role") == "region" and box.get("aria-label")


def test_a_column_is_hidden_where_its_lick_goes_over_another_chord():
    """Choosing D7 (the first in order) leaves b, in the third column: the first has the heads, the second a."""
    rule = next(line for line in goes_with_style(COMPANY).splitlines()
                if '"fp-next-over"] option[value="1"]' in line)
    assert re.findall(r"nth-child\((\d+)\)", rule) == ["2", "4", "5"]


def test_without_verdicts_there_is_neither_page_nor_style():
    assert "licks/goes-with.md" not in generated_pages(TABS, {}, True)
    assert "media/goes-with.css" not in generated_files(TABS, {}, True)


def test_the_page_stands_beside_the_catalogue():
    entries = expand_nav("licks/index.md", TABS, goes_with=True)["Licks"]
    assert entries[:2] == ["licks/index.md", {"What goes with what": "licks/goes-with.md"}]
