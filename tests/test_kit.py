"""``fifthpeg kit`` on a small course: what lies in the folder, the same bytes twice, part of it, names that travel."""

import shutil
import subprocess
import zipfile
from pathlib import Path
from urllib.parse import unquote, urlsplit

import html5lib
import pytest

from fifthpeg import kit_command
from fifthpeg.command import main
from tests.sites import build_course, write_course

SPRING = "1700000000"
"""2023-11-14, 22:13:20 UTC."""
RUN = "```tab\nid: {id}\ntitle: {title}\nrole: {role}\ntempo: 160\n{more}---\n[G] T3 I2 M1 T5 I2 M1 T3 M1\n```\n"
PAGES = {
    "index.md": "# Welcome\n\nStart with [the weir](lessons/01-weir.md), then [the sluice](lessons/02-sluice.md#the-end).\n",
    "about.md": "# How to read\n\nAsk [the first lesson](lessons/01-weir.md).\n",
    "lessons/01-weir.md": "---\nlevel: 1\nsummary: One run.\n---\n\n# Weir\n\n"
                          + RUN.format(id="weir-run", title="Weir run", role="lick", more=""),
    "lessons/02-sluice.md": "---\nlevel: 2\nneeds: [01-weir.md]\ntechniques: [run]\n---\n\n# Sluice\n\n## The end\n\n"
                            + RUN.format(id="sluice-tag", title="Sluice tag", role="tag", more="")
                            + "\nSee [the mill](03-mill.md).\n\n```chain\nid: both\nlinks: [weir-run, {id: sluice-tag, bars: 1}]\n```\n",
    "lessons/03-mill.md": "# Mill\n\n" + RUN.format(id="mill-fill", title="Mill fill", role="fill", more=""),
}
NAV = [{"Welcome": "index.md"}, {"Lessons": ["lessons/01-weir.md", "lessons/02-sluice.md", "lessons/03-mill.md"]},
       {"Licks": "licks/index.md"}, {"Reading": "about.md"}]


@pytest.fixture
def course(tmp_path, monkeypatch) -> Path:
    write_course(tmp_path, PAGES, site_name="Mill & Weir", nav=NAV)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", SPRING)
    return tmp_path


def names(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def dead_links(folder: Path) -> list[tuple[str, str]]:
    """Whatever a page of the folder names that is not a file of it; a folder is no file on file://."""
    dead = []
    for page in folder.rglob("*.html"):
        root = html5lib.parse(page.read_text(encoding="utf-8"), namespaceHTMLElements=False)
        for element in root.iter():
            url = urlsplit(element.get("href") or element.get("src") or "")
            if url.scheme or url.netloc or not url.path:
                continue
            if not (page.parent / unquote(url.path)).is_file():
                dead.append((page.relative_to(folder).as_posix(), url.path))
    return dead


def test_the_folder_opens_without_a_server_and_says_what_is_inside(course, capsys):
    assert main(["kit"]) == 0
    folder = course / "kit/mill-weir"
    said = capsys.readouterr().out
    assert "start.html" in said and "MB" in said and "mill-weir.zip" in said
    assert dead_links(folder) == []
    cover = (folder / "start.html").read_text()
    for inside in ("Mill &amp; Weir", "2023-11-14", "course/lessons/01-weir.html", "Weir run", "course/licks/sluice-tag.html",
                   "One run.", "double click"):
        assert inside in cover
    assert {"start.html", "files.txt", "course/index.html", "course/search/search_index.js"} <= names(folder)
    assert not names(folder) & {"course/404.html", "course/sitemap.xml"}


@pytest.mark.skipif(not shutil.which("sha256sum"), reason="the check is GNU's own program")
def test_sha256sum_agrees_with_the_list_of_files(course):
    main(["kit"])
    folder = course / "kit/mill-weir"
    subprocess.run(["sha256sum", "--check", "--strict", "--quiet", "files.txt"], cwd=folder, check=True)
    listed = {line[66:] for line in (folder / "files.txt").read_text().splitlines()}
    assert listed == names(folder) - {"files.txt"}


def test_the_same_course_gives_the_same_zip_byte_for_byte(course):
    zips = []
    for place in ("one", "two"):
        assert main(["kit", "--to", place]) == 0
        shutil.rmtree(course / ".cache")
        zips.append((course / place / "mill-weir.zip").read_bytes())
    assert zips[0] == zips[1]


def test_the_zip_holds_the_folder_with_the_day_of_the_course(course):
    main(["kit"])
    with zipfile.ZipFile(course / "kit/mill-weir.zip") as packed:
        assert packed.testzip() is None
        assert {entry.date_time for entry in packed.infolist()} == {(2023, 11, 14, 22, 13, 20)}
        assert {entry.filename for entry in packed.infolist()} == {f"mill-weir/{name}" for name in names(course / "kit/mill-weir")}


def test_part_of_the_course_has_its_lessons_and_what_they_need_and_no_way_out(course):
    assert main(["kit", "--only", "lessons/02"]) == 0
    folder = course / "kit/mill-weir-part"
    found = names(folder)
    assert {"course/index.html", "course/about.html", "course/lessons/02-sluice.html", "course/licks/sluice-tag.html",
            "course/licks/both.html", "course/licks/weir-run.html", "course/licks/index.html",
            "course/media/licks/weir-run/weir-run-full.wav"} <= found
    assert not {name for name in found if "mill-fill" in name or "03-mill" in name or "01-weir.html" in name}
    assert dead_links(folder) == []
    assert "Start with the weir, then" in (folder / "course/index.html").read_text()
    assert "mill" not in (folder / "course/licks/index.html").read_text().split("<article")[1].split("</article>")[0].lower()
    assert "Mill fill" not in (folder / "start.html").read_text()


def test_a_lesson_s_path_can_be_typed_as_the_editor_shows_it(course, capsys):
    assert main(["kit", "--only", "lessons/01-weir.md", "--only", "lessons/03-mill"]) == 0
    found = names(course / "kit/mill-weir-part/course/lessons")
    assert found == {"01-weir.html", "03-mill.html"}


def test_a_lesson_may_be_named_as_messages_name_it(course):
    assert main(["kit", "--only", "content/lessons/01-weir.md"]) == 0
    assert names(course / "kit/mill-weir-part/course/lessons") == {"01-weir.html"}


def test_the_cover_of_a_part_says_that_it_is_one(course):
    assert main(["kit", "--only", "lessons/01", "--light"]) == 0
    assert "This is part of the course" in (course / "kit/mill-weir-part-light/start.html").read_text()
    assert main(["kit", "--light"]) == 0
    assert "part of the course" not in (course / "kit/mill-weir-light/start.html").read_text()


def test_a_file_where_the_kit_s_folder_should_be_is_told_in_words(course, capsys):
    assert main(["kit", "--to", "content/index.md"]) == 2
    assert "fifthpeg: content/index.md is there already, and is no folder" in capsys.readouterr().err


def test_a_lesson_that_is_not_there_is_named_with_the_nearest(course, capsys):
    assert main(["kit", "--only", "lessons/01-wier"]) == 2
    assert "lessons/01-weir.md" in capsys.readouterr().err
    assert not list((course / "kit").iterdir())


def test_the_light_form_has_no_lick_s_recordings_and_no_page_that_asks_for_one(course):
    assert main(["kit", "--light"]) == 0
    folder = course / "kit/mill-weir-light"
    assert not {name for name in names(folder) if name.endswith(".wav") and "/licks/" in name}
    assert dead_links(folder) == []
    assert "<audio" not in (folder / "course/licks/weir-run.html").read_text()
    assert "fp-player" in (folder / "course/licks/weir-run.html").read_text()
    assert "light form" in (folder / "start.html").read_text()


def test_a_name_that_windows_keeps_for_itself_is_refused_and_nothing_is_left(course, capsys):
    (course / "content/lessons/03-mill.md").write_text("# Mill\n\n" + RUN.format(id="con", title="Con", role="fill", more=""))
    assert main(["kit"]) == 2
    assert "Windows keeps the name `con` for itself" in capsys.readouterr().err
    assert not list((course / "kit").iterdir())


def test_a_course_with_a_fault_is_not_handed_out(course, capsys):
    (course / "content/lessons/03-mill.md").write_text("```tab\nT3 I2\n```\n")
    assert main(["kit"]) == 2
    said = capsys.readouterr().err
    assert "bar-length" in said and "mend" in said


def test_somebody_s_own_folder_is_not_overwritten(course, capsys):
    (course / "kit/mill-weir").mkdir(parents=True)
    (course / "kit/mill-weir/song.txt").write_text("mine")
    assert main(["kit"]) == 2
    assert (course / "kit/mill-weir/song.txt").read_text() == "mine"


def test_a_second_kit_takes_the_first_one_s_place(course):
    main(["kit"])
    (course / "content/about.md").write_text("# How to read\n\nAnother way.\n")
    assert main(["kit"]) == 0
    assert "Another way." in (course / "kit/mill-weir/course/about.html").read_text()


def test_a_kit_that_can_t_be_finished_leaves_the_one_before_it_whole(course, capsys, monkeypatch):
    def no_room(*_: object) -> None:
        raise OSError(28, "No space left on device", "kit.zip")

    main(["kit", "--light"])
    before = {name: (course / "kit" / name).read_bytes() for name in names(course / "kit")}
    (course / "content/about.md").write_text("# How to read\n\nAnother way.\n")
    monkeypatch.setattr(kit_command, "write_zip", no_room)
    assert main(["kit", "--light"]) == 2
    assert "kit.zip: No space left on device" in capsys.readouterr().err
    assert {name: (course / "kit" / name).read_bytes() for name in names(course / "kit")} == before


def test_outside_a_course_it_says_where_to_go(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["kit"]) == 2
    assert "mkdocs.yml" in capsys.readouterr().err


def test_a_site_built_after_it_is_a_site_again(course):
    assert main(["kit", "--light", "--only", "lessons/01"]) == 0
    built = build_course(course / "mkdocs.yml")
    assert built.failure is None and (built.site / "lessons/03-mill/index.html").is_file()
