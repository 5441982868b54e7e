"""The SVG itself: well formed whatever a teacher types, equal to the notes, the same every time.

Well-formedness is judged by two readers nobody here wrote: expat (the standard library's) and html5lib,
which reads the inline form as a browser would.
"""

import re
from dataclasses import replace
from xml.etree import ElementTree

import html5lib
import pytest
from fifthpeg.engraving.draw import draw
from fifthpeg.engraving.plan import plan_bars
from fifthpeg.model.note import written_notes
from hypothesis import given, settings
from tests.engraving.adorned import Told, suggested, told
from tests.written import lick

SVG = "{http://www.w3.org/2000/svg}"
ROLL = "T3 I2 M1 T5 I2 M1 T3 M1 | 3:2s5 2:1h3=2 - 1:x 1:12c 2:10b1 - r"


def drawing(text: str):
    read = lick(text)
    return draw(read, written_notes(read))


def bars_of(inline: str) -> list[ElementTree.Element]:
    return list(ElementTree.fromstring(f"<div>{inline}</div>"))


def notes_in(root: ElementTree.Element) -> list[ElementTree.Element]:
    return [element for element in root.iter() if element.get("class") == "fp-note"]


@settings(max_examples=50, deadline=None)
@given(told())
def test_any_lick_gives_well_formed_svg(made: Told):
    drawn = draw(made.lick, made.notes, "", made.findings)
    assert [bar.get("class") for bar in bars_of(drawn.inline)] == ["fp-bar"] * len(made.lick.bars)
    assert ElementTree.fromstring(drawn.standalone.encode()).tag == f"{SVG}svg"


@settings(max_examples=30, deadline=None)
@given(told())
def test_the_numbers_drawn_are_the_notes(made: Told):
    """In both forms: every note once, on its string, at its fret."""
    drawn = draw(made.lick, made.notes, "", made.findings)
    expected = {note.mark: (str(note.string), "x" if note.touch == "damped" else str(note.fret))
                for note in made.notes}
    for form in (f"<div>{drawn.inline}</div>", drawn.standalone.encode()):
        found = [(group.get("data-mark"), (group.get("data-string"), group.get("data-fret")))
                 for group in notes_in(ElementTree.fromstring(form))]
        assert dict(found) == expected
        assert len(found) == len(made.notes)


@settings(max_examples=20, deadline=None)
@given(told())
def test_the_same_lick_gives_the_same_bytes(made: Told):
    assert draw(made.lick, made.notes, "", made.findings) == draw(made.lick, made.notes, "", made.findings)


def test_what_is_written_on_the_string_is_the_fret():
    found = notes_in(ElementTree.fromstring(f"<div>{drawing(ROLL).inline}</div>"))
    written = [[text.text for text in group.iter("text")][0] for group in found]
    assert written == ["0"] * 8 + ["2", "5", "1", "3", "x", "12", "10", "(10)"]


def test_a_browser_reads_the_inline_form_as_it_is_meant():
    """html5lib, strict, within a page: one svg a bar and no parse error."""
    parser = html5lib.HTMLParser(strict=True)
    page = parser.parse(f"<!doctype html><title>t</title><div>{drawing(ROLL).inline}</div>")
    assert len(page.findall(f".//{SVG}svg")) == 2


def test_inline_bars_carry_no_ids_since_many_tabs_share_a_page():
    assert " id=" not in drawing(ROLL).inline


def test_the_standalone_file_names_each_note_by_its_mark():
    groups = notes_in(ElementTree.fromstring(drawing(ROLL).standalone.encode()))
    assert [group.get("id") for group in groups] == [group.get("data-mark") for group in groups]


def test_every_colour_is_the_ink_of_the_page():
    painted = set(re.findall(r'(?:fill|stroke)="([^"]*)"', drawing(ROLL).inline))
    assert painted == {"none", "currentColor"}


def test_no_coordinate_has_more_than_two_decimals():
    assert not re.search(r"\d\.\d{3}", drawing(ROLL).inline)


def test_words_with_markup_in_them_stay_words():
    marked = drawing('title: <i>&\n---\n"a < b & c" T3 - - - - - - -')
    texts = [text.text for text in ElementTree.fromstring(f"<div>{marked.inline}</div>").iter("text")]
    assert "a < b & c" in texts
    assert ElementTree.fromstring(marked.standalone.encode()).findtext(f"{SVG}title") == "<i>&"


def test_each_note_says_what_it_is_in_words():
    groups = notes_in(ElementTree.fromstring(f"<div>{drawing('T3:2=2h3=3 I2 - - - - - -').inline}</div>"))
    assert [group.findtext("title") for group in groups] == [
        "string 3, fret 2, thumb; left middle finger", "string 3, hammer-on to fret 3; left ring finger",
        "string 2, open, index"]


@pytest.mark.parametrize("given_finger, kind", [("T", "fp-finger"), ("", "fp-chosen")])
def test_written_and_suggested_letters_differ_in_shape(given_finger, kind):
    """A suggested letter lies in a cup, a written one does not."""
    read = lick(f"{given_finger}3 - - - - - - -")
    (bar,) = bars_of(draw(read, suggested(read)).inline)
    kinds = {element.get("class") for element in bar.iter()}
    assert kind in kinds
    assert ("fp-cup" in kinds) == (kind == "fp-chosen")


def test_a_lick_without_bars_is_an_empty_drawing():
    empty = replace(lick("3 - - - - - - -"), bars=())
    assert draw(empty, ()).inline == ""
    assert ElementTree.fromstring(draw(empty, ()).standalone.encode()).tag == f"{SVG}svg"


def test_planning_keeps_every_note():
    read = lick(ROLL)
    plan = plan_bars(read, written_notes(read))
    assert set(plan.homes) == {note.mark for note in written_notes(read)}
