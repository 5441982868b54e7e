"""Fragments and generated pages, from licks alone."""

import json
import re
from dataclasses import replace

import html5lib
import pytest

from fifthpeg.compiled import Facts
from fifthpeg.model.findings import Join, Roll
from fifthpeg.model.lick import ROLES
from fifthpeg.pages.catalogue import catalogue_markdown, filter_style
from fifthpeg.pages.figure import figure
from fifthpeg.pages.generated import ShownOn, generated_pages
from fifthpeg.pages.html import markdown_text, script_data
from fifthpeg.pages.nav import ROLE_HEADINGS, expand_nav
from fifthpeg.pages.publish import published_files
from fifthpeg.pages.problem_box import problem_box
from fifthpeg.pages.slots import fill, slot
from fifthpeg.pages.titles import title_in
from tests.pages.made import ALL_RECORDED, tab

NASTY = '"><script>alert(1)</script>'


def parsed(fragment: str):
    """By html5lib, which raises at any fault."""
    page = f"<!doctype html><html><head><title>x</title></head><body>{fragment}</body></html>"
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)


def test_a_figure_is_html_without_a_fault_whatever_its_title():
    root = parsed(figure(tab(f"id: a\ntitle: {NASTY}"), "fp-a", "lessons/one/", "licks/a/"))
    assert [script.get("type") for script in root.iter("script")] == ["application/json"]
    assert NASTY in "".join(next(root.iter("figcaption")).itertext())


def test_player_data_cannot_end_its_script():
    data = script_data({"title": "</script><!--"})
    assert "<" not in data and json.loads(data) == {"title": "</script><!--"}


def test_every_recording_has_a_name_of_its_own_for_the_ear():
    root = parsed(figure(tab("id: a\ntitle: Mill"), "fp-a", ""))
    assert [audio.get("aria-label") for audio in root.iter("audio")] == ["Mill, slow", "Mill, medium", "Mill, full"]
    assert all(audio.get("preload") == "none" for audio in root.iter("audio"))


def test_a_bar_counted_in_the_recordings_is_said_to_eye_and_ear():
    counted = replace(ALL_RECORDED, count_in_recordings=True)
    root = parsed(figure(tab("id: a\ntitle: Mill", counted), "fp-a", ""))
    room = next(room for room in root.iter("div") if room.get("class") == "fp-recordings")
    assert [line.text for line in room.iter("p")] == ["After one counted bar:"]
    assert [audio.get("aria-label") for audio in root.iter("audio")] == [
        f"Mill, {name}, after one counted bar" for name in ("slow", "medium", "full")]


def test_a_figure_without_a_counted_bar_and_one_without_recordings_say_nothing_of_one():
    assert "counted" not in figure(tab("id: a"), "fp-a", "")
    assert "counted" not in figure(tab("id: a", Facts(count_in_recordings=True)), "fp-a", "")


@pytest.mark.parametrize("names", [("full",), ("slow", "full"), ()])
def test_a_figure_plays_and_hands_out_the_recordings_there_are_and_no_others(names):
    root = parsed(figure(tab("id: a\ntitle: Mill", Facts(recordings=names)), "fp-a", ""))
    assert [audio.get("src") for audio in root.iter("audio")] == [f"media/licks/a/a-{name}.wav" for name in names]
    wavs = [link.get("href") for link in root.iter("a") if link.get("href", "").endswith(".wav")]
    assert wavs == [f"media/licks/a/a-{name}.wav" for name in names]
    rooms = [room for room in root.iter("div") if room.get("class") == "fp-recordings"]
    assert len(rooms) == bool(names)


def test_only_files_that_were_made_are_published():
    made = tab("id: a", Facts(recordings=("slow",)))
    assert list(published_files(made)) == [f"media/licks/a/a{ending}" for ending in
                                           (".svg", ".mid", ".musicxml", ".json", "-slow.wav")]


def test_a_caption_links_to_the_lick_s_page_from_any_other_page():
    assert 'href="../../licks/a/"' in figure(tab("id: a"), "fp-a", "lessons/one/", "licks/a/")
    assert "<strong>A</strong>" in figure(tab("id: a"), "fp-a", "licks/a/", "")


def test_a_box_says_the_message_and_keeps_the_caret_under_its_place():
    message = "page.md:1:3: bad-group: <b> can't be\n  T3 <b>\n     ^^^\n  hint: take it out"
    root = parsed(problem_box([message], "T3 <i>"))
    assert [element.text for element in root.iter("p")] == ["page.md:1:3: bad-group: <b> can't be", "hint: take it out"]
    assert [element.text for element in root.iter("code")] == ["  T3 <b>\n     ^^^", "T3 <i>"]


def test_slots_are_filled_and_told():
    html, filled = fill(f"a{slot('p.md', 3)}b{slot('p.md', 9)}", lambda spot: f"<{spot[1]}>")
    assert html == "a<3>b<9>" and filled == {("p.md", 3), ("p.md", 9)}


def test_a_slot_in_a_comment_stays_empty():
    html, filled = fill(f"<!-- {slot('p.md', 3)} -->{slot('p.md', 9)}", lambda spot: "tab")
    assert html == "<!--  -->tab" and filled == {("p.md", 9)}


def test_a_slot_keeps_the_page_s_name_whatever_is_in_it():
    assert fill(slot('a"&<b>.md', 1), lambda spot: spot[0])[0] == 'a"&<b>.md'


@pytest.mark.parametrize("text, title", [
    ("# A run {#run}\n", "A run"), ("Text\n\n# *The* `weir` [run](x.md) #\n", "The weir run"),
    ("---\ntitle: \"Weir: a run\"\n---\n\n# Other\n", "Weir: a run"), ("---\nlevel: 2\n---\n# Run\n", "Run"),
    ("---\ntags: x\n---\ntext\n\n---\n\ntitle: no\n\n---\n", "stem"), ("no heading", "stem"),
])
def test_a_page_is_called_what_its_text_says(text, title):
    assert title_in(text, "stem") == title


def test_markdown_leaves_escaped_words_alone():
    import markdown
    words = "*a* _b_ [c](d) <b> & `e` # 1. \\ ~~f~~"
    html = markdown.markdown(f"# {markdown_text(words)}")
    assert "".join(parsed(html).find(".//h1").itertext()) == words


TABS = [tab("id: a\ntitle: Alpha\nrole: tag\nlabels: [bluesy, driving]"), tab("id: b\ntitle: Beta\nkey: D"),
        tab("id: c\ntitle: Gamma\nrole: tag\nlabels: [driving]", Facts(rolls=(Roll(1, "forward"),)))]


def test_the_catalogue_has_a_row_for_every_lick_with_its_facts():
    root = parsed(catalogue_markdown(TABS, True).split("\n\n", 1)[1])
    rows = ["|".join("".join(cell.itertext()) for cell in row) for row in root.iter("tr")]
    assert rows[1:] == ["Alpha|tag|G|1|160|bluesy, driving|", "Beta|lick|D|1|160||", "Gamma|tag|G|1|160|driving|forward"]


def test_each_row_of_the_catalogue_is_headed_by_its_lick():
    """WCAG 2.2, 1.3.1: a reader who hears the cells one by one hears whose they are."""
    root = parsed(catalogue_markdown(TABS, True).split("\n\n", 1)[1])
    heads = [head for head in root.iter("th") if head.get("scope") == "row"]
    assert ["".join(head.itertext()) for head in heads] == ["Alpha", "Beta", "Gamma"]


def test_a_filter_hides_exactly_the_rows_without_its_value():
    """The style sheet's rules, read and applied to the rows by hand."""
    root = parsed(catalogue_markdown(TABS, True).split("\n\n", 1)[1])
    rows = [row for row in root.iter("tr") if row.get("data-role")]
    labels = next(select for select in root.iter("select") if select.get("name") == "fp-label")
    number = next(option.get("value") for option in labels.iter("option") if option.text == "bluesy")
    rule = next(line for line in filter_style(TABS).splitlines() if f'"fp-label"] option[value="{number}"]' in line)
    attribute, value = re.search(r'tr:not\(\[([a-z-]+)~="(\d+)"\]\)', rule).groups()
    assert ["".join(row.find("th").itertext()) for row in rows if value in row.get(attribute).split()] == ["Alpha"]


def test_an_empty_library_says_what_would_fill_it():
    assert "`id`" in catalogue_markdown([], True)


def test_a_filter_with_one_choice_only_is_not_offered():
    assert "fp-role" not in catalogue_markdown([TABS[0], TABS[2]], True)


def test_a_lick_s_page_says_how_it_loops():
    looped = tab("id: a", Facts(loop=Join("clash", ("M",), 6.93, 195)))
    assert "clash: middle picks twice in a row" in generated_pages([looped], {}, True)["licks/a.md"]


def test_a_lick_meant_to_follow_another_links_to_it():
    pages = generated_pages([tab("id: a"), tab("id: b\nafter: a"), tab("id: c\nafter: D7")], {}, True)
    assert '<a href="../a/">A</a>' in pages["licks/b.md"]
    assert "<td>D7</td>" in pages["licks/c.md"]


def test_a_lick_s_page_links_to_the_source_of_each_page_that_shows_it():
    shown = {"a": [ShownOn("lessons/one (1).md", "lessons/one/", "One [x]")]}
    assert "](../lessons/one%20%281%29.md)" in generated_pages([tab("id: a")], shown, True)["licks/a.md"]


def test_the_catalogue_s_entry_becomes_a_section_by_role():
    nav = ["index.md", {"Library": "licks/index.md"}]
    assert expand_nav(nav, TABS) == ["index.md", {"Library": [
        "licks/index.md", {"Licks": [{"Beta": "licks/b.md"}]}, {"Tags": [{"Alpha": "licks/a.md"}, {"Gamma": "licks/c.md"}]}]}]


def test_a_navigation_without_the_catalogue_stays_as_it_is():
    nav = [{"A": ["x.md", {"B": "y.md"}]}, "z.md"]
    assert expand_nav(nav, TABS) == nav and expand_nav(None, TABS) is None


def test_every_role_has_a_heading():
    assert set(ROLE_HEADINGS) == set(ROLES)
