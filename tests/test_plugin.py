"""What MkDocs makes of a course with the plugin in it."""

import json
import os
import shutil
from pathlib import Path

import html5lib
import pytest
import soundfile

from fifthpeg.model.lick import TEMPO_NAMES
from tests.sites import ONE_LICK, TOO_SHORT, Built, build_course, build_pages, write_course

ENDINGS = (".svg", ".mid", ".json", *(f"-{name}.wav" for name in TEMPO_NAMES))
SHOWING = "# Again\n\n```tab\nshow: weir-run\n```\n"
PART = "# A part\n\n```tab\nshow: weir-run\nbars: 1\ntempo: 100\n```\n"


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Built:
    """One lick, shown again whole and in part, and one block that can't be read."""
    folder = tmp_path_factory.mktemp("course")
    nav = [{"First": "index.md"}, "again.md", "part.md", "broken.md", {"Library": "licks/index.md"}]
    return build_pages(folder, {"index.md": ONE_LICK, "again.md": SHOWING, "part.md": PART, "broken.md": TOO_SHORT},
                       nav=nav)


def test_every_file_of_a_lick_is_at_its_stable_address(site):
    files = [site.site / f"media/licks/weir-run/weir-run{ending}" for ending in ENDINGS]
    assert [path for path in files if not path.is_file() or not path.stat().st_size] == []


@pytest.mark.parametrize("page", ["index.html", "again/index.html", "part/index.html", "licks/weir-run/index.html"])
def test_every_link_and_source_of_a_tab_leads_to_a_file(site, page):
    root = html5lib.parse(site.text(page), namespaceHTMLElements=False)
    figure = next(element for element in root.iter("figure") if element.get("class") == "fp-tab")
    urls = [element.get("href") or element.get("src") for element in figure.iter() if element.tag in ("a", "audio")]
    bank = figure.get("data-fp-bank")
    data = json.loads(next(script.text for script in figure.iter("script")))
    urls += [f"{bank}{note['sound']}.js" for note in data["notes"] if note["sound"]]
    targets = [(site.site / page).parent / url for url in urls]
    assert len(urls) > 10
    assert [target for target in targets if not (target / "index.html" if target.is_dir() else target).is_file()] == []


def test_a_lick_shown_whole_shares_the_lick_s_own_files(site):
    assert "media/licks/weir-run/weir-run-slow.wav" in site.text("again/index.html")


def test_a_part_of_a_lick_has_files_of_its_own(site):
    assert "media/blocks/" in site.text("part/index.html")
    assert len(list((site.site / "media/blocks").iterdir())) == 1


def test_a_page_keeps_all_it_says_around_a_block_that_cannot_be_read(site):
    page = site.text("broken/index.html")
    assert page.index("Before.") < page.index("fp-problem") < page.index("After.")


def test_the_box_says_what_the_terminal_says(site):
    message = site.log.split("fifthpeg: ", 1)[1].split("hint:")[0].strip()
    first_line, quoted, caret = message.splitlines()
    assert first_line.startswith("content/broken.md:8:")
    assert quoted in site.text("broken/index.html") and caret in site.text("broken/index.html")


def test_each_problem_is_told_once(site):
    assert site.log.count("bar-length") == 1


def test_titles_can_be_searched_for_and_fret_digits_can_not(site):
    index = json.loads(site.text("search/search_index.json"))["docs"]
    assert any(entry["title"] == "Weir run" for entry in index)
    words = " ".join(entry["text"] for entry in index if entry["location"].startswith(("again/", "part/")))
    assert "svg" not in words and not any(letter.isdigit() for letter in words)


def test_the_library_tells_where_each_lick_is_defined_and_shown(site):
    (lick,) = json.loads(site.text("media/library.json"))["licks"]
    assert lick["id"] == "weir-run" and lick["bars"] == 1
    assert lick["defined"]["page"] == "content/index.md"
    assert lick["shown_on"] == ["./", "again/", "part/"]


def test_the_navigation_leads_to_the_catalogue_and_to_every_lick(site):
    assert "../licks/" in site.text("again/index.html")
    assert 'href="weir-run/"' in site.text("licks/index.html").split("<article")[0]


def test_a_lick_s_page_names_its_facts_and_the_pages_that_teach_it(site):
    page = site.text("licks/weir-run/index.html").split("<article")[1]
    assert all(words in page for words in ("208 beats a minute", "open G (G4 D3 G3 B3 D4)", "1 bar of 4/4"))
    assert all(f'href="../../{address}"' in page for address in ("again/", "part/"))


@pytest.mark.parametrize("page", ["index.html", "broken/index.html", "licks/index.html", "licks/weir-run/index.html"])
def test_the_main_part_of_a_page_is_html_without_a_fault(site, page):
    """html5lib, the WHATWG parser in strict mode; the theme's own frame around it is not ours to judge."""
    article = "<article" + site.text(page).split("<article")[1].split("</article>")[0] + "</article>"
    html5lib.HTMLParser(strict=True).parse(f"<!doctype html><html><head><title>x</title></head><body>{article}</body></html>")


def test_plain_addresses_without_folders_work_too(tmp_path):
    site = build_pages(tmp_path, {"index.md": ONE_LICK, "again.md": SHOWING}, use_directory_urls=False)
    assert 'src="media/licks/weir-run/weir-run-slow.wav"' in site.text("again.html")
    assert 'href="weir-run.html"' in site.text("licks/index.html")
    assert 'src="../media/licks/weir-run/weir-run-full.wav"' in site.text("licks/weir-run.html")


def test_a_strict_build_fails_on_a_problem_and_leaves_no_half_written_site(tmp_path):
    site = build_pages(tmp_path, {"index.md": ONE_LICK, "broken.md": TOO_SHORT}, strict=True)
    assert site.failure is not None and "strict" in str(site.failure)
    assert not site.site.exists() or list(site.site.iterdir()) == []


def test_a_strict_build_without_a_problem_passes(tmp_path):
    site = build_pages(tmp_path, {"index.md": ONE_LICK}, strict=True)
    assert site.failure is None and site.log == ""


def test_a_preview_shows_the_box_and_goes_on(tmp_path):
    site = build_course(write_course(tmp_path, {"index.md": ONE_LICK, "broken.md": TOO_SHORT}), serve_url="http://127.0.0.1/")
    assert site.failure is None
    assert "fp-problem" in site.text("broken/index.html") and "fp-tab" in site.text("index.html")


def test_the_plugin_stays_for_the_next_build_of_a_preview():
    """MkDocs keeps an instance between builds only where it defines on_startup."""
    from fifthpeg.plugin import FifthpegPlugin
    assert FifthpegPlugin.on_startup is not getattr(FifthpegPlugin.__mro__[1], "on_startup", None)


LOST = {
    "words behind the block's name": ("```tab title=x\nT3 I2 M1 T5 I2 M1 T3 M1\n```\n", "bad-header"),
    "a fence that is never closed": ("```tab\nT3 I2 M1 T5 I2 M1 T3 M1\n", "unclosed"),
}


@pytest.mark.parametrize("written, kind", LOST.values(), ids=LOST)
def test_a_fence_the_renderer_would_lose_is_told_where_it_stands(tmp_path, written, kind):
    site = build_pages(tmp_path, {"index.md": f"# Page\n\nBefore.\n\n{written}"})
    assert f"content/index.md:5:1: {kind}:" in site.log
    page = site.text("index.html")
    assert page.index("Before.") < page.index("fp-problem")


def test_what_follows_a_fence_with_words_behind_its_name_is_unharmed(tmp_path):
    text = "# Page\n\n```tab title=x\nT3 I2 M1 T5 I2 M1 T3 M1\n```\n\n*After.*\n\n" + ONE_LICK
    page = build_pages(tmp_path, {"index.md": text}).text("index.html")
    assert "<em>After.</em>" in page and 'id="fp-weir-run"' in page


IN_PLACES = {
    "a list": "1. One\n\n    ```tab\n    {tab}\n    ```\n",
    "an admonition": "!!! note\n\n    ```tab\n    {tab}\n    ```\n",
    "a content tab": '=== "One"\n\n    ```tab\n    {tab}\n    ```\n',
    "a quotation": "> ```tab\n> {tab}\n> ```\n",
    "a page with front matter": "---\ntitle: Page\n---\n\n```tab\n{tab}\n```\n",
}


@pytest.mark.parametrize("around", IN_PLACES.values(), ids=IN_PLACES)
def test_a_block_is_drawn_wherever_markdown_lets_a_fence_stand(tmp_path, around):
    site = build_pages(tmp_path, {"index.md": around.format(tab="T3 I2 M1 T5 I2 M1 T3 M1")})
    assert site.text("index.html").count('<figure class="fp-tab"') == 1
    assert site.log == ""


def test_two_blocks_alike_on_one_page_are_drawn_twice_with_ids_of_their_own(tmp_path):
    block = "```tab\nT3 I2 M1 T5 I2 M1 T3 M1\n```\n\n"
    site = build_pages(tmp_path, {"index.md": block + block})
    assert site.log == ""
    ids = [part.split('"')[0] for part in site.text("index.html").split('<figure class="fp-tab" id="')[1:]]
    assert len(ids) == len(set(ids)) == 2


def test_a_block_that_is_commented_out_is_told(tmp_path):
    site = build_pages(tmp_path, {"index.md": "# Page\n\n<!--\n\n```tab\nT3 I2 M1 T5 I2 M1 T3 M1\n```\n\n-->\n"})
    assert "content/index.md:5" in site.log
    assert "<figure" not in site.text("index.html")


def test_a_block_that_an_include_brings_in_is_told(tmp_path):
    (tmp_path / "part.md").write_text("```tab\nT3 I2 M1 T5 I2 M1 T3 M1\n```\n")
    extensions = ["pymdownx.superfences", {"pymdownx.snippets": {"base_path": [str(tmp_path)]}}]
    site = build_pages(tmp_path, {"index.md": '--8<-- "part.md"\n'}, markdown_extensions=extensions)
    assert "write it on the page itself" in site.log
    assert "fp-problem" in site.text("index.html")


def test_superfences_is_brought_along_where_a_site_does_not_list_it(tmp_path):
    site = build_pages(tmp_path, {"index.md": ONE_LICK}, markdown_extensions=["admonition"])
    assert "fp-tab" in site.text("index.html")


def test_titles_labels_and_rights_are_shown_as_written_not_as_markup(tmp_path):
    nasty = '<b>&amp; "x" *y* [z](w)'
    text = f"# Page\n\n```tab\nid: a\ntitle: {nasty}\nlabels: [{nasty}]\nrights: {nasty}\n---\nT3 I2 M1 T5 I2 M1 T3 M1\n```\n"
    site = build_pages(tmp_path, {"index.md": text}, nav=["index.md", "licks/index.md"])
    for page in ("index.html", "licks/index.html", "licks/a/index.html"):
        parsed = html5lib.parse(site.text(page), namespaceHTMLElements=False)
        assert not list(parsed.iter("b"))
        assert not [link for link in parsed.iter("a") if link.get("href") == "w"]
    shown = html5lib.parse(site.text("licks/a/index.html"), namespaceHTMLElements=False)
    heading = next(shown.iter("h1"))
    assert "".join(heading.itertext()).startswith(nasty)


def test_two_builds_from_clean_caches_are_the_same_byte_for_byte(tmp_path, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    trees = []
    for name in ("one", "two"):
        site = build_pages(tmp_path / name, {"index.md": ONE_LICK, "part.md": PART})
        trees.append(_tree(site.site))
    assert trees[0].keys() == trees[1].keys()
    assert [path for path in trees[0] if trees[0][path] != trees[1][path]] == []


def test_a_build_from_the_cache_is_the_same_as_the_first(tmp_path, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    config = write_course(tmp_path, {"index.md": ONE_LICK, "part.md": PART})
    first = _tree(build_course(config).site)
    monkeypatch.setattr("fifthpeg.pipeline.compile_lick", None)  # a second build has no need of it
    assert _tree(build_course(config).site) == first


DAMAGES = {
    "cut short": lambda content: content[:len(content) // 2],
    "one byte changed": lambda content: content[:-1] + bytes([content[-1] ^ 1]),
    "empty": lambda content: b"",
}


@pytest.mark.parametrize("damage", DAMAGES.values(), ids=DAMAGES)
def test_a_damaged_cache_is_made_again_not_believed(tmp_path, damage):
    config = write_course(tmp_path, {"index.md": ONE_LICK})
    first = _tree(build_course(config).site)
    kept = [path for path in (tmp_path / ".cache").rglob("*") if path.is_file()]
    for path in kept:
        _write_anew(path, damage(path.read_bytes()))
    second = _tree(build_course(config).site)
    assert second.keys() == first.keys()
    assert _media(second) == _media(first)
    assert _article(second) == _article(first)


def test_a_cache_with_files_missing_is_made_whole(tmp_path):
    config = write_course(tmp_path, {"index.md": ONE_LICK})
    first = _media(_tree(build_course(config).site))
    for path in (tmp_path / ".cache").rglob("*.wav"):
        path.unlink()
    assert _media(_tree(build_course(config).site)) == first


def test_writing_into_the_site_does_not_spoil_the_next_build(tmp_path):
    """Published files may be second names of the cache's own: whoever overwrites one must not be believed."""
    config = write_course(tmp_path, {"index.md": ONE_LICK})
    address = "media/licks/weir-run/weir-run.svg"
    first = build_course(config).text(address)
    (tmp_path / "site" / address).write_text("spoilt")
    assert build_course(config).text(address) == first


def test_a_changed_setting_reaches_the_recordings(tmp_path):
    wav = "media/licks/weir-run/weir-run-full.wav"
    loud, soft = (build_pages(tmp_path, {"index.md": ONE_LICK}, plugins=[{"fifthpeg": {"loudness_lufs": lufs}}])
                  .site.joinpath(wav).read_bytes() for lufs in (-21, -30))
    assert loud != soft and len(loud) == len(soft)


@pytest.mark.parametrize("setting", [
    {"backing_in_recordings": False}, {"backing_below_lu": 3}, {"stereo": True}, {"room": "small"}, {"rate_hz": 44_100},
    {"click_in_recordings": True}, {"count_in_recordings": True}])
def test_what_recordings_are_like_is_the_site_s_to_say(tmp_path, setting):
    wav = "media/licks/weir-run/weir-run-full.wav"
    plain, other = (build_pages(tmp_path, {"index.md": ONE_LICK}, plugins=[{"fifthpeg": said}]).site.joinpath(wav).read_bytes()
                    for said in ({}, setting))
    assert plain != other


@pytest.mark.parametrize(("switch", "level"), [("click_in_recordings", "click_level"), ("count_in_recordings", "count_level")])
def test_ticks_in_recordings_are_as_loud_as_the_site_says(tmp_path, switch, level):
    """A level that nothing uses changes nothing."""
    wav = "media/licks/weir-run/weir-run-full.wav"
    said = ({}, {level: 40}, {switch: True}, {switch: True, level: 40})
    plain, unused, usual, softer = (
        build_pages(tmp_path, {"index.md": ONE_LICK}, plugins=[{"fifthpeg": each}]).site.joinpath(wav).read_bytes() for each in said)
    assert plain == unused
    assert len({plain, usual, softer}) == 3


@pytest.mark.parametrize("counted", [True, False])
def test_a_page_says_whether_a_bar_is_counted_in_its_recordings(tmp_path, counted):
    built = build_pages(tmp_path, {"index.md": ONE_LICK}, plugins=[{"fifthpeg": {"count_in_recordings": counted}}])
    assert ("After one counted bar:" in built.text("index.html")) is counted


@pytest.mark.parametrize("names", [["medium"], []])
def test_a_site_with_fewer_recordings_is_whole(tmp_path, names):
    """Nothing on it leads to a recording that was not made; a build after another leaves none behind."""
    build_pages(tmp_path, {"index.md": ONE_LICK})
    built = build_pages(tmp_path, {"index.md": ONE_LICK, "again.md": SHOWING}, strict=True,
                        plugins=[{"fifthpeg": {"recordings": names}}])
    assert built.failure is None and built.log == ""
    recordings = (built.site / "media" / "licks").rglob("*.wav")
    assert sorted(path.name for path in recordings) == [f"weir-run-{name}.wav" for name in names]
    for page in ("index.html", "again/index.html", "licks/weir-run/index.html"):
        assert built.text(page).count("<audio") == len(names)
        assert built.text(page).count(".wav") == 2 * len(names)


def test_recordings_name_the_course_they_are_from(tmp_path):
    built = build_pages(tmp_path, {"index.md": ONE_LICK}, site_name="Millrace")
    with soundfile.SoundFile(built.site / "media/licks/weir-run/weir-run-slow.wav") as opened:
        assert (opened.copy_metadata()["title"], opened.copy_metadata()["album"]) == ("Weir run", "Millrace")


@pytest.mark.parametrize(("setting", "told"), [
    ({"recordings": ["fast"]}, "a list such as [slow, full], of slow, medium and full"),
    ({"recordings": "slow"}, "a list such as [slow, full], of slow, medium and full"),
    ({"room": "cathedral"}, "it takes none or small, not cathedral"),
    ({"backing_below_lu": 99}, "between 0 (as loud as the lick) and 30 (hardly heard), not 99"),
    ({"stereo": "wide"}, "it takes true or false, not wide"),
    ({"click_level": 250}, "between 0 (silent) and 200 (twice as loud as usual), in per cent, not 250"),
    ({"count_level": -1}, "between 0 (silent) and 200 (twice as loud as usual), in per cent, not -1"),
    ({"count_in_recordings": "yes"}, "it takes true or false, not yes"),
    ({"tempo": -3}, "between 20 and 400, in beats a minute, not -3"),
    ({"key": "H"}, "a key such as G, Gm, D or Bb, not H"),
    ({"clash_per_second": 4}, "5.0 is higher than clash_per_second, 4"),
    ({"own_bank": "nowhere"}, "there is no folder nowhere; it is looked for from the folder of mkdocs.yml"),
    ({"count_in_recordngs": True}, "there is no setting count_in_recordngs; do you mean count_in_recordings?"),
])
def test_a_setting_that_makes_no_sense_is_refused_with_what_would(tmp_path, setting, told):
    config = write_course(tmp_path, {"index.md": ONE_LICK}, plugins=[{"fifthpeg": setting}])
    built = build_course(config)
    assert next(iter(setting)) in str(built.failure) + built.log
    assert told in str(built.failure) + built.log


def test_a_setting_out_of_range_is_refused(tmp_path):
    config = write_course(tmp_path, {"index.md": ONE_LICK}, plugins=[{"fifthpeg": {"loudness_lufs": -5}}])
    assert "loudness_lufs" in str(build_course(config).failure or "") or "loudness_lufs" in build_course(config).log


def test_a_corrected_fret_is_corrected_everywhere_at_once(tmp_path):
    pages = {"index.md": ONE_LICK, "again.md": SHOWING, "part.md": PART}
    before = build_pages(tmp_path, pages)
    old = before.text("again/index.html"), before.text("part/index.html")
    after = build_pages(tmp_path, pages | {"index.md": ONE_LICK.replace("I2:3", "I2:1")})
    for was, page in zip(old, ("again/index.html", "part/index.html"), strict=True):
        assert 'data-string="2" data-fret="3"' in was
        assert 'data-string="2" data-fret="1"' in after.text(page)
        assert 'data-string="2" data-fret="3"' not in after.text(page)


def _tree(site: Path) -> dict[str, bytes]:
    return {path.relative_to(site).as_posix(): path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()}


def _media(tree: dict[str, bytes]) -> dict[str, bytes]:
    return {name: content for name, content in tree.items() if name.startswith("media/")}


def _article(tree: dict[str, bytes]) -> bytes:
    return tree["index.html"].split(b"<article")[1].split(b"</article>")[0]


def _write_anew(path: Path, content: bytes) -> None:
    """In a file of its own: the site's second name of the old one keeps the old bytes."""
    new = path.with_name("new")
    new.write_bytes(content)
    shutil.move(new, path)
    os.utime(path)
