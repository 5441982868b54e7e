"""The examples of the README do what it says."""

import shutil
import textwrap
from pathlib import Path

from fifthpeg.command import main
from tests.sites import build_course

PROJECT = Path(__file__).parents[1]
README = (PROJECT / "README.md").read_text()


def indented_after(words: str) -> str:
    """The indented example that follows ``words``."""
    lines = README[README.index(words) + len(words):].split("\n")
    start = next(index for index, line in enumerate(lines) if line.startswith("    "))
    example = []
    for line in lines[start:]:
        if line.strip() and not line.startswith("    "):
            break
        example.append(line)
    return textwrap.dedent("\n".join(example)).strip() + "\n"


def test_the_lesson_in_ten_lines_and_its_variant_are_faultless(tmp_path, capsys):
    page = tmp_path / "eddy.md"
    page.write_text(indented_after("while `make serve` runs, and look at") + "\n" + indented_after("correction of its parent reaches it:"))
    assert page.read_text().count("```tab") == 3
    assert main(["check", str(page)]) == 0, capsys.readouterr().out


def test_the_lesson_in_ten_lines_goes_beside_the_demo_course(tmp_path, monkeypatch, capsys):
    shutil.copytree(PROJECT / "content", tmp_path / "content")
    shutil.copy(PROJECT / "mkdocs.yml", tmp_path)
    monkeypatch.chdir(tmp_path)
    page = tmp_path / "content" / "lessons" / "eddy.md"
    page.write_text(indented_after("while `make serve` runs, and look at"))
    assert main(["check", "content"]) == 0, capsys.readouterr().out


def test_the_message_shown_is_the_message_given(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    lesson = tmp_path / "content" / "lessons"
    lesson.mkdir(parents=True)
    shown = indented_after("and goes on; `mkdocs build --strict` refuses.")
    tab = shown.split("\n")[1].strip()
    (lesson / "eddy.md").write_text("\n" * 5 + f"```tab\n{tab}\n```\n")
    assert main(["check", "content"]) == 1
    assert capsys.readouterr().out == shown


def test_the_smallest_course_is_whole_and_its_menu_leads_to_what_is_made_for_it(tmp_path):
    (tmp_path / "content" / "lessons").mkdir(parents=True)
    (tmp_path / "content" / "index.md").write_text("# Welcome\n")
    (tmp_path / "content" / "lessons" / "eddy.md").write_text(indented_after("while `make serve` runs, and look at"))
    (tmp_path / "mkdocs.yml").write_text(indented_after("its pages below `content/`. This much is enough:"))
    built = build_course(tmp_path / "mkdocs.yml", strict=True)
    assert built.failure is None and built.log == ""
    menu = built.text("index.html").partition("<article")[0]
    for address in ("lessons/eddy/", "licks/", "licks/eddy-run/", "licks/goes-with/", "tuner/", "bench/", "practice/"):
        assert f'href="{address}"' in menu
