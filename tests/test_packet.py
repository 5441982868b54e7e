"""``fifthpeg packet`` on a small course: what is on the page, what paper can't do left out, and the PDF."""

import re
from pathlib import Path

import html5lib
import pytest
from axe_playwright_python.sync_playwright import Axe

from fifthpeg import packet_command
from fifthpeg.command import main
from fifthpeg.pages.packet import PacketLesson, packet_html
from tests.sites import write_course
from tests.test_kit import NAV, PAGES, SPRING

A4_POINTS = (595, 842)
"""ISO 216: 210 mm by 297 mm, at 72 points an inch."""


@pytest.fixture
def course(tmp_path, monkeypatch) -> Path:
    write_course(tmp_path, PAGES, site_name="Mill & Weir", nav=NAV, site_url="https://banjo.example/mill/")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", SPRING)
    return tmp_path


def page_of(course: Path, *arguments: str) -> str:
    assert main(["packet", *arguments, "--to", "packet.html"]) == 0
    return (course / "packet.html").read_text(encoding="utf-8")


def test_all_that_someone_has_written_stands_on_one_page_in_the_menu_s_order(course):
    page = page_of(course)
    lessons = re.findall(r'<article[^>]*>\s*<h1>(.*?)</h1>', page)
    assert lessons == ["Welcome", "Weir", "Sluice", "Mill", "How to read"]
    assert "As of 2023-11-14." in page


def test_the_named_lessons_alone(course):
    page = page_of(course, "lessons/03", "lessons/01-weir.md")
    assert re.findall(r'<article[^>]*>\s*<h1>(.*?)</h1>', page) == ["Weir", "Mill"]


def test_each_tab_is_drawn_with_its_bar_number_and_has_nothing_to_press(course):
    page = page_of(course, "lessons/02")
    assert page.count("<figure") == 2 and page.count('class="fp-number"') >= 2
    main_part = page[page.index("<main>"):]
    for needless in ("<script", "<audio", "<button", "<input", "fp-player", "headerlink", "download"):
        assert needless not in main_part


def test_the_fingers_are_explained_in_words_and_on_wish_every_tab_is(course):
    assert "<b>T</b> thumb" in page_of(course, "lessons/01")
    assert "Beat 1: thumb, string 3 open" not in page_of(course, "lessons/01")
    assert "Beat 1: thumb, string 3 open" in page_of(course, "lessons/01", "--words")


def test_each_lesson_says_where_it_stands_in_the_web_in_the_web_s_own_form(course):
    page = page_of(course)
    assert "Online: https://banjo.example/mill/lessons/02-sluice/" in page
    assert page.count("Online: ") == 5


def test_a_link_leads_into_the_packet_or_becomes_words(course):
    page = page_of(course, "lessons/02", "lessons/03")
    assert '<a href="#lesson-2">the mill</a>' in page
    ids = set(re.findall(r' id="([^"]*)"', page))
    assert {link for link in re.findall(r'href="#([^"]*)"', page)} <= ids
    assert ".html" not in page[page.index("<main>"):]


def test_an_address_in_the_web_is_said_once():
    lesson = PacketLesson("One", "one.html", '<article><p><a href="https://a.example/x">here</a> and '
                                             '<a href="https://b.example">https://b.example</a></p></article>')
    page = packet_html("Course", [lesson], "")
    assert "here</a> (https://a.example/x)" in page and page.count("https://b.example") == 2


def test_a_title_can_t_bring_markup_in():
    page = packet_html("<b>C", [PacketLesson("<script>x</script>", "one.html", "<article><p>a</p></article>")], "")
    assert "<script" not in page and "<b>C" not in page


def test_the_page_is_html_without_a_fault_and_needs_no_other_file(course):
    page = page_of(course)
    html5lib.HTMLParser(strict=True).parse(page)
    assert not re.search(r'<link[^>]*rel="stylesheet"|\bsrc=|url\(', page)


@pytest.mark.parametrize("palette", ["light", "dark"])
def test_axe_finds_nothing_to_mend_on_the_page_and_it_fits_the_narrowest_screen(course, chromium, palette):
    """axe-core's rules for WCAG 2.2 A and AA; 1.4.10: no sideways scrolling at 320 CSS pixels."""
    page_of(course, "--words")
    context = chromium.new_context(color_scheme=palette, viewport={"width": 320, "height": 640})
    page = context.new_page()
    page.goto((course / "packet.html").as_uri())
    rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
    found = Axe().run(page, options={"runOnly": {"type": "tag", "values": rules}}).response["violations"]
    wide = page.evaluate("document.documentElement.scrollWidth > innerWidth")
    context.close()
    assert [(fault["id"], [node["html"][:160] for node in fault["nodes"]][:3]) for fault in found] == []
    assert not wide


def test_the_same_course_gives_the_same_page(course):
    assert page_of(course) == page_of(course)


def test_the_pdf_is_a4_and_has_every_lesson(course, chromium):
    assert main(["packet", "--to", "packet.pdf"]) == 0
    printed = (course / "packet.pdf").read_bytes()
    assert printed.startswith(b"%PDF-")
    sheets = [tuple(map(round, map(float, box))) for box in
              re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", printed)]
    assert len(sheets) >= 6 and set(sheets) == {A4_POINTS}  # the cover and five lessons


def test_words_that_lead_to_a_tab_stay_with_it(course, chromium):
    weir = (course / "content/lessons/01-weir.md")
    weir.write_text(weir.read_text().replace("# Weir\n", "# Weir\n\nOnce more.\n\nSlowly:\n"))
    sheet = chromium.new_page()
    sheet.set_content(page_of(course, "lessons/01"))
    breaks = {words: sheet.get_by_text(words, exact=True).evaluate("one => getComputedStyle(one).breakAfter")
              for words in ("Once more.", "Slowly:")}
    sheet.close()
    assert breaks == {"Once more.": "auto", "Slowly:": "avoid"}


def test_without_a_browser_it_says_what_to_do_and_builds_nothing(course, capsys, monkeypatch):
    monkeypatch.setattr(packet_command, "BROWSERS", ())
    monkeypatch.delenv("FIFTHPEG_BROWSER", raising=False)
    assert main(["packet"]) == 2
    said = capsys.readouterr().err
    assert "Install one" in said and "FIFTHPEG_BROWSER" in said and "--to packet.html" in said
    assert not (course / "packet.pdf").exists() and not (course / ".cache").exists()


def test_a_browser_that_was_named_and_is_not_there_is_told_of(course, capsys, monkeypatch):
    monkeypatch.setenv("FIFTHPEG_BROWSER", "/nowhere/chromium")
    assert main(["packet"]) == 2
    assert "FIFTHPEG_BROWSER names /nowhere/chromium" in capsys.readouterr().err


def test_a_folder_that_is_not_there_is_told_before_anything_is_built(course, capsys):
    assert main(["packet", "--to", "hall/packet.html"]) == 2
    assert "there is no folder hall; make it first" in capsys.readouterr().err
    assert not (course / ".cache").exists()


def test_a_browser_that_prints_nothing_is_told_of(course, capsys, monkeypatch):
    monkeypatch.setenv("FIFTHPEG_BROWSER", "true")
    assert main(["packet", "lessons/01"]) == 2
    assert "made no PDF" in capsys.readouterr().err


def test_another_kind_of_file_is_refused(course, capsys):
    assert main(["packet", "--to", "packet.docx"]) == 2
    assert ".pdf or .html" in capsys.readouterr().err


def test_a_printed_lesson_names_its_address_and_one_without_an_address_does_not(course):
    assert main(["kit", "--only", "lessons/01"]) == 0
    lesson = (course / "kit/mill-weir-part/course/lessons/01-weir.html").read_text()
    assert '<p class="fp-online">Online: https://banjo.example/mill/lessons/01-weir/</p>' in lesson
    write_course(course, {}, site_name="Mill & Weir", nav=NAV)
    assert main(["kit", "--only", "lessons/01"]) == 0
    assert "fp-online" not in (course / "kit/mill-weir-part/course/lessons/01-weir.html").read_text()
