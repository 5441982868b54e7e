"""``fifthpeg sound report``: one page that is whole in itself, the same for the same bank, and held against an earlier one."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import html5lib
import pytest
from axe_playwright_python.sync_playwright import Axe

import fifthpeg.sound_command
from fifthpeg.command import main
from fifthpeg.model.bank import BankNote
from fifthpeg.model.take_names import TakeName, all_take_names
from fifthpeg.pages.report_page import earlier_figures
from fifthpeg.sound.touches import TOUCHES
from tests.browser.test_site import NARROW
from tests.sound.takes import plucked, wav


@pytest.fixture(scope="module")
def page(tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("report") / "report.html"
    assert main(["sound", "report", "--to", str(path)]) == 0
    return path


def test_every_note_and_touch_has_its_row(page):
    figures = earlier_figures(page.read_text())
    plucks = {BankNote(name.string, name.midi, name.fret).name for name in all_take_names()}
    assert plucks <= set(figures)
    assert {BankNote.from_name(name).touch for name in figures} == set(TOUCHES)
    root = html5lib.parse(page.read_text(), namespaceHTMLElements=False)
    assert sum(1 for body in root.iter("tbody") for _ in body.iter("tr")) == len(figures)


def test_the_figures_keep_the_bank_s_promise(page):
    """In tune within a tenth of a cent, and level within a decibel from pluck to pluck."""
    plucks = {name: one for name, one in earlier_figures(page.read_text()).items() if name.endswith("-pick")}
    levels = [one.level_db for one in plucks.values()]
    assert max(abs(one.cents) for one in plucks.values()) <= 0.1
    assert max(levels) - min(levels) <= 1.0


def test_another_process_writes_the_same_bytes(page, tmp_path):
    """Other hash seed, other number of threads."""
    other = tmp_path / "other.html"
    subprocess.run([sys.executable, "-c", f"from fifthpeg.command import main; main(['sound', 'report', '--to', {str(other)!r}])"],
                   check=True, capture_output=True, env=os.environ | {
                       "PYTHONHASHSEED": "7", "OPENBLAS_NUM_THREADS": "1", "PYTHONPATH": str(Path(fifthpeg.__file__).parents[1])})
    assert other.read_bytes() == page.read_bytes()


def test_it_is_html_without_a_fault_and_names_nothing_outside(page):
    """By html5lib in strict mode."""
    html = page.read_text()
    html5lib.HTMLParser(strict=True).parse(html)
    links = set(re.findall(r'(?:src|href)="([^"#][^"]*)"', html))
    assert {link for link in links if not link.startswith("data:")} == set()
    assert len(html) < 2_000_000


def test_against_itself_nothing_has_changed_and_against_another_bank_it_has(page, tmp_path):
    (tmp_path / "3-0.wav").write_bytes(wav(plucked(TakeName(3, 0), 20.0)))
    made = tmp_path / "own.html"
    assert main(["sound", "report", "--to", str(made), "--bank", str(tmp_path), "--against", str(page)]) == 0
    html = made.read_text()
    assert "a teacher&#x27;s own bank" in html and "What has changed" in html and "Spectral centre, Hz" in html
    before, after = earlier_figures(page.read_text()), earlier_figures(html)
    assert {name for name in after if after[name] != before[name]} == {name for name in after if name.startswith("3-")}
    alone = tmp_path / "figures.json"
    alone.write_text(json.dumps(json.loads(re.search(r'id="figures">(.*?)</script>', html)[1])))
    assert main(["sound", "report", "--to", str(made), "--bank", str(tmp_path), "--against", str(alone)]) == 0
    assert "No figure has changed." in made.read_text()


@pytest.mark.parametrize("content", ["", "{}", "<html>", '{"schema": 99}'])
def test_what_is_no_earlier_report_is_said(tmp_path, monkeypatch, capsys, content):
    (tmp_path / "earlier.html").write_text(content)
    assert main(["sound", "report", "--to", str(tmp_path / "x.html"), "--against", str(tmp_path / "earlier.html")]) == 2
    assert "earlier.html can't be held against the new report" in capsys.readouterr().err
    assert not (tmp_path / "x.html").exists()


def test_without_matplotlib_it_says_what_to_install(monkeypatch, capsys):
    monkeypatch.setattr(fifthpeg.sound_command, "find_spec", lambda name: None)
    assert main(["sound", "report"]) == 2
    assert '"fifthpeg[report]"' in capsys.readouterr().err


@pytest.mark.parametrize("palette", ["light", "dark"])
def test_axe_finds_nothing_to_mend(chromium, page, palette):
    """axe-core's rules for WCAG 2.2 A and AA."""
    context = chromium.new_context(color_scheme=palette, viewport=NARROW)
    opened = context.new_page()
    opened.goto(page.as_uri())
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
    found = Axe().run(opened, options={"runOnly": {"type": "tag", "values": tags}}).response["violations"]
    wide = opened.evaluate("document.documentElement.scrollWidth > innerWidth")
    context.close()
    assert [(fault["id"], [node["html"][:160] for node in fault["nodes"]][:3]) for fault in found] == []
    assert not wide
