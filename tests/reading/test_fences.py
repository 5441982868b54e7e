"""Blocks are found where the renderer will find them, with what it will receive."""

import pytest
from fifthpeg.reading.fences import BLOCK_NAMES, find_fences
from markdown import Markdown
from mkdocs.utils.meta import get_data

EXTENSIONS = ["admonition", "pymdownx.superfences", "pymdownx.tabbed", "pymdownx.details", "md_in_html", "attr_list"]
TAB = "```tab\nid: a\n---\nT3 I2 M1\n\n  T5\n```"


def indented(text: str, indent: str) -> str:
    return indent + text.replace("\n", "\n" + indent)


PAGES = {
    "plain": f"Words\n\n{TAB}\n",
    "front matter": f"---\ntitle: x\nneeds: [a]\n---\n\n{TAB}\n",
    "front matter ended by dots": f"---\ntitle: x\n...\n{TAB}\n",
    "list": f"- item\n\n{indented(TAB, '    ')}\n",
    "numbered list in a list": f"1. item\n\n    - inner\n\n{indented(TAB, '        ')}\n",
    "admonition": f"!!! tip\n\n{indented(TAB, '    ')}\n",
    "details": f"??? note\n\n{indented(TAB, '    ')}\n",
    "content tab": f'=== "Slow"\n\n{indented(TAB, "    ")}\n\n=== "Fast"\n\n{indented(TAB, "    ")}\n',
    "blockquote": indented(TAB, "> ") + "\n",
    "tilde fence": TAB.replace("```", "~~~~") + "\n",
    "tab characters": f"- item\n\n{indented(TAB, chr(9))}\n",
    "windows line ends": f"Words\n\n{TAB}\n".replace("\n", "\r\n"),
    "inside a longer fence": f"````md\n{TAB}\n````\n\n{TAB}\n",
    "two on a page": f"{TAB}\n\n{TAB}\n",
    "chain": TAB.replace("tab", "chain") + "\n",
    "fit in a list": f"- item\n\n{indented(TAB.replace('tab', 'fit'), '    ')}\n",
}


def rendered_sources(text: str) -> list[str]:
    """What a custom fence's formatter gets in a real conversion, front matter taken off as MkDocs does."""
    seen = []

    def note(source, *_arguments, **_options):
        seen.append(source)
        return ""

    fences = [{"name": name, "class": name, "format": note} for name in BLOCK_NAMES]
    body, _ = get_data(text)
    Markdown(extensions=EXTENSIONS,
             extension_configs={"pymdownx.superfences": {"custom_fences": fences}}).convert(body)
    return seen


@pytest.mark.parametrize("name", PAGES)
def test_both_passes_see_the_same_blocks(name):
    found = find_fences(PAGES[name], "page.md")
    assert found.problems == ()
    assert [block.source for block in found.blocks] == rendered_sources(PAGES[name])
    assert found.blocks


@pytest.mark.parametrize("name", PAGES)
def test_a_place_points_at_the_very_letters(name):
    lines = PAGES[name].replace("\r\n", "\n").split("\n")
    for block in find_fences(PAGES[name], "page.md").blocks:
        rows = block.source.split("\n")
        place = block.place(2, rows[2].index("M1"), 2)
        assert lines[place.line - 1][place.column - 1:place.column - 1 + place.width] == "M1"


def test_a_page_without_the_word_costs_nothing():
    assert find_fences("# Words\n\n```python\n1\n```\n", "page.md").blocks == ()


@pytest.mark.parametrize("opening",
                         ["```tab title=x", "```tab {.x} y", "``` tab title: x", "```chain a, b", "~~~fit over=G"])
def test_an_opening_line_the_renderer_would_pass_over_is_told(opening):
    found = find_fences(f"{opening}\nT3\n{opening[:3]}\n\nafter\n", "page.md")
    assert found.blocks == ()
    assert [(problem.kind, problem.place.line) for problem in found.problems] == [("bad-header", 1)]


def test_a_block_never_closed_is_told_at_its_opening():
    found = find_fences("words\n\n    ```tab\n    T3\n\nmore\n", "page.md")
    assert [(problem.kind, problem.place.line, problem.place.column) for problem in found.problems] == [("unclosed",
                                                                                                         3, 5)]


def test_another_language_that_begins_alike_is_left_alone():
    page = "```table\nx\n```\n\n```tabular\ny\n```\n\n```chaining\nz\n```\n\n```fitting\nz\n```\n"
    assert find_fences(page, "page.md") == find_fences("", "page.md")
