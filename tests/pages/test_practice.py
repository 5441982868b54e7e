"""The practice page as HTML: it knows the course's licks and nothing of a student."""

import json
import re

from fifthpeg.pages.nav import expand_nav
from fifthpeg.pages.practice import practice_markdown
from tests.pages.made import published
from tests.written import lick

HOSTILE = "</script><b>*x*"


def page(*tabs, directory_urls: bool = True) -> str:
    return practice_markdown(tabs, directory_urls)


def licks_in(markdown: str) -> list:
    return json.loads(re.search(r'<script type="application/json">(.*?)</script>', markdown)[1])


def test_it_names_every_lick_with_its_full_tempo_as_the_player_rounds_it():
    tabs = [published(lick(f"id: a\ntitle: {HOSTILE}\ntempo: 131\n---\nT3 I2 M1 T5 I2 M1 T3 M1"))]
    assert licks_in(page(*tabs)) == [["a", HOSTILE, 131]]
    assert "<b>" not in page(*tabs)


def test_it_finds_root_licks_and_script_with_either_kind_of_address():
    assert 'data-fp-root="../" data-fp-lick="../licks/*/"' in page()
    assert 'src="../assets/fifthpeg-practice.js" defer' in page()
    assert 'data-fp-root="./" data-fp-lick="licks/*.html"' in page(directory_urls=False)


def test_it_says_where_practice_is_kept_and_cautions():
    """Overuse: checks.md's figures, of the British Association for Performing Arts Medicine's health tips."""
    said = page()
    assert "nowhere else" in said and "nothing is sent" in said
    assert "five minutes in every half hour" in said and "ten minutes a day" in said and "physiotherapist" in said


def test_it_stands_beside_the_catalogue_unless_it_has_a_place_of_its_own():
    tools = {"practice.md": "Practice"}
    assert expand_nav("licks/index.md", [], tools=tools) == {"Licks": ["licks/index.md", {"Practice": "practice.md"}]}
    assert expand_nav([{"Mine": "practice.md"}, "licks/index.md"], [], tools=tools) == [{"Mine": "practice.md"}, {"Licks": ["licks/index.md"]}]
