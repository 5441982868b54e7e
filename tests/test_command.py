"""The command line as a teacher and an editor use it, in a course of its own."""

import json
import subprocess
import sys

import pytest
import yaml
from fifthpeg.command import main

LESSON = "# Weir\n\n```tab\nid: weir-run\n---\nT3 I2 M1 T5 I2 M1 T3 M1\n```\n"
BROKEN = "---\nlevel: 7\n---\n\n```tab\nshow: wier-run\n```\n\n```tab\nT3   I2 M1\n```\n"


@pytest.fixture
def course(tmp_path, monkeypatch):
    (tmp_path / "mkdocs.yml").write_text("site_name: x\ndocs_dir: pages  # here\n")
    (tmp_path / "pages" / "lessons").mkdir(parents=True)
    (tmp_path / "pages" / "lessons" / "weir.md").write_text(LESSON)
    monkeypatch.chdir(tmp_path)
    return tmp_path / "pages" / "lessons"


def test_a_good_course_gives_nothing_and_0(course, capsys):
    assert main(["check"]) == 0
    assert capsys.readouterr().out == ""


def test_faults_of_all_pages_are_printed_as_in_a_build_and_give_1(course, capsys):
    (course / "broken.md").write_text(BROKEN)
    assert main(["check"]) == 1
    said = capsys.readouterr().out
    assert "pages/lessons/broken.md:2:1: bad-value: `level` can't be `7`" in said
    assert "pages/lessons/broken.md:6:7: unknown-lick" in said and "do you mean `weir-run`?" in said
    assert "pages/lessons/broken.md:10:1: bar-length" in said


def test_one_page_is_read_as_part_of_its_course(course, capsys):
    (course / "more.md").write_text("```tab\nshow: weir-run\n```\n")
    (course / "broken.md").write_text(BROKEN)
    assert main(["check", "pages/lessons/more.md"]) == 0
    assert capsys.readouterr().out == ""


def test_an_editor_gets_one_object_a_problem(course, capsys):
    (course / "broken.md").write_text(BROKEN)
    assert main(["check", "--format", "json", "pages/lessons/broken.md"]) == 1
    problems = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [(problem["kind"], problem["line"], problem["column"], problem["width"]) for problem in problems] == [
        ("bad-value", 2, 1, 8), ("unknown-lick", 6, 7, 8), ("bar-length", 10, 1, 10)]
    assert all(set(problem) == {"page", "line", "column", "width", "kind", "says", "quote", "hint", "others"}
               for problem in problems)


def test_what_is_not_there_is_the_commands_own_trouble(course, capsys):
    assert main(["check", "nowhere.md"]) == 2
    assert "nowhere.md" in capsys.readouterr().err


def test_a_file_that_is_no_text_is_the_commands_own_trouble(course, capsys):
    (course / "picture.md").write_bytes(b"\xff\xfe\x00tab")
    assert main(["check", "pages/lessons/picture.md"]) == 2
    assert "picture.md" in capsys.readouterr().err


def test_a_new_lesson_is_a_good_lesson_and_overwrites_nothing(course, capsys):
    assert main(["new", "lesson", "Mill pond: a first look"]) == 0
    path = course / "mill-pond-a-first-look.md"
    assert "# Mill pond: a first look" in path.read_text()
    assert main(["check"]) == 0
    path.write_text("mine")
    assert main(["new", "lesson", "Mill pond: a first look"]) == 2
    assert path.read_text() == "mine"
    assert main(["new", "lesson", "!!!"]) == 2


@pytest.mark.parametrize(("title", "stem"), [
    ("Ada's roll", "adas-roll"), ("Über die Mühle", "uber-die-muhle"), ("Slow & <soft>: bar 2", "slow-soft-bar-2"),
    ("[Draft] a tag", "draft-a-tag"), ("No. 5 - \"home\"", "no-5-home"), ("🪕 first", "first"), ("Lesson {2}", "lesson-2")])
def test_a_new_lesson_takes_any_title(course, capsys, title, stem):
    assert main(["new", "lesson", title]) == 0
    page = (course / f"{stem}.md").read_text(encoding="utf-8")
    assert main(["check"]) == 0, capsys.readouterr().out
    assert f"\ntitle: {title.replace('[', '').replace(']', '')}\n" in page.partition("```tab")[2]
    assert yaml.safe_load(page.split("---")[1])["title"] == title


def test_a_seam_that_clashes_is_told_as_in_a_build(course, capsys):
    (course / "chain.md").write_text("```tab\nid: hot\ntempo: 208\n---\nM1 I2 T3 I2 M1 I2 T3 M1\n```\n\n"
                                     "```chain\nlinks: [hot, hot, weir-run]\n```\n")
    assert main(["check"]) == 1
    said = capsys.readouterr().out
    assert said.count("seam-clash") == 1 and "pages/lessons/chain.md:9:9: seam-clash" in said


@pytest.mark.parametrize("what", ["header", "chain", "fit", "lesson"])
def test_every_schema_can_be_printed(what, capsys):
    assert main(["schema", what]) == 0
    assert json.loads(capsys.readouterr().out)["properties" if what != "header" else "anyOf"]


def test_tidy_leaves_chains_and_fits_as_they_are(course):
    page = course / "chain.md"
    written = "```chain\nlinks: [weir-run,   weir-run]\n```\n\n```fit\nfill:   4\nover: G\n```\n"
    page.write_text(written)
    assert main(["tidy", str(page)]) == 0
    assert page.read_text() == written


def test_tidy_rewrites_what_can_be_lined_up_and_keeps_windows_line_ends(course, capsys):
    page = course / "weir.md"
    page.write_bytes(b"```tab\r\nT3:2  - - - - - - -\r\nT3 - - - - - - -\r\n```\r\n")
    assert main(["tidy", str(page)]) == 0
    assert page.read_bytes() == b"```tab\r\nT3:2 - - - - - - -\r\nT3   - - - - - - -\r\n```\r\n"
    capsys.readouterr()
    assert main(["tidy", str(page)]) == 0
    assert capsys.readouterr().out == ""


@pytest.mark.parametrize("command", ["check", "tidy"])
def test_a_page_that_is_no_text_is_named_and_keeps_no_other_from_its_turn(course, capsys, command):
    (course / "cafe.md").write_bytes("# café".encode("latin-1"))
    (course / "broken.md").write_text(BROKEN)
    (course / "loose.md").write_text("```tab\nT3    I2 M1 T5 I2 M1 T3 M1\n```\n")
    assert main([command]) == 2
    said = capsys.readouterr()
    assert "cafe.md is not a text in UTF-8; save it as UTF-8 and try again" in said.err
    if command == "check":
        assert "pages/lessons/broken.md:10:1: bar-length" in said.out and "3 pages read, 3 to mend" in said.err
    else:
        assert said.out == "pages/lessons/loose.md: lined up\n"



def test_who_reads_no_further_gets_no_complaint(course):
    (course / "broken.md").write_text(BROKEN * 400)
    checking = subprocess.Popen([sys.executable, "-c", "import sys; from fifthpeg.command import main; sys.exit(main(['check']))"],
                                stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert checking.stdout.readline().startswith("pages/lessons/broken.md:")
    checking.stdout.close()
    told = checking.stderr.read()
    checking.stderr.close()
    assert checking.wait() == 2
    assert told == ""
