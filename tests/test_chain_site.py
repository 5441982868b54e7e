"""Chains and fits in a built course: their pages, files and what is said of their seams."""

import json
import re
import subprocess
import sys

import pytest

from tests.sites import build_course, write_course

PAGE = """---
level: 2
techniques: [seam]
---

# Seams

```tab
id: weir
title: Weir run
tempo: 208
---
[D7] M1:4 I2:3 T3:2 M1 T4 I3:2 M1 -
```

```tab
id: sluice
title: Sluice tag
role: tag
tempo: 208
exit: 1
after: weir
---
[G] I2+M1 - T3 I2 M1 T5 I2 M1 | T3 - T5+M1 - T4 - - -
```

```chain
id: twice
title: Sluice twice
links: [{id: sluice, repair: hold}, sluice]
```

```chain
links: [weir, sluice]
exit: no
```

```chain
title: Sluice by itself
links: [sluice]
context: yes
```

```fit
fill: 2
over: G
after: weir
with: {role: tag}
```

```fit
fill: 1
over: C
```
"""


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    course = build_course(write_course(tmp_path_factory.mktemp("chains"), {"index.md": PAGE}), strict=True)
    assert course.failure is None, course.log
    return course


def test_a_chain_publishes_all_that_a_lick_does(built):
    folder = built.site / "media/licks/twice"
    assert {path.name for path in folder.iterdir()} == {
        "twice.svg", "twice.mid", "twice.musicxml", "twice.json", "twice-slow.wav", "twice-medium.wav", "twice-full.wav"}
    listed = json.loads((folder / "twice.json").read_text())
    assert [(bar["bar"], bar["link"]) for bar in listed["bar_map"]] == [(1, 0), (2, 1), (3, 1)]
    (seam,) = listed["seams"]
    assert (seam["from"], seam["to"], seam["at"], seam["verdict"], seam["repair"]["name"]) == (
        "sluice", "sluice", "4", "clean", "hold")
    assert seam["unrepaired"]["verdict"] == "clash" and seam["unrepaired"]["clashes_above"] == 195


def test_its_page_tells_the_seam_the_repair_and_the_links(built):
    page = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", built.text("licks/twice/index.html")))
    assert "Sluice tag into Sluice tag" in page and "hold the" in page and "clash above 195" in page


def test_a_build_that_finds_all_on_the_shelf_starts_without_numpy(built):
    """Chains, fits and licks in context included: numpy and scipy alone take longer to start than many a page."""
    again = ("import sys\nfrom mkdocs.commands.build import build\nfrom mkdocs.config import load_config\n"
             "build(load_config(sys.argv[1]))\nprint(sorted({'numpy', 'scipy', 'soundfile'} & set(sys.modules)))")
    told = subprocess.run([sys.executable, "-c", again, str(built.folder / "mkdocs.yml")], check=True, text=True,
                          stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, cwd=built.folder).stdout
    assert told.strip() == "[]"


def test_a_chain_without_an_id_and_the_fit_are_drawn_on_the_page(built):
    page = built.text("index.html")
    assert "Weir run, then Sluice tag" in page or "Weir run then Sluice tag" in page
    assert page.count('<figure class="fp-tab"') >= 5


def test_a_chain_that_asks_for_its_context_is_heard_in_it_too(built):
    """Under the chain's own tab, open, and after the lick that it is meant to follow."""
    page = built.text("index.html")
    own, context = page.index("Sluice by itself"), page.index("Sluice by itself, after Weir run")
    assert own < context and 'open><summary>See and hear it in context' in page[own:context]


def test_a_fit_that_nothing_fills_says_so_and_is_no_fault(built):
    assert "problem" not in built.log.lower()
    page = re.sub(r"<[^>]+>", "", built.text("index.html"))
    assert re.search(r"(?i)no chain|nothing|none", page)


def test_what_goes_with_what_leads_to_the_seam_that_is_told(built):
    table = built.text("licks/goes-with/index.html")
    (target,) = set(re.findall(r'href="([^"]*sluice/#after\.sluice)"', table))
    assert target == "../sluice/#after.sluice"
    assert 'id="after.sluice"' in built.text("licks/sluice/index.html")


def test_the_lesson_s_head_and_the_techniques_page_name_its_technique(built):
    assert "techniques/#technique.seam" in built.text("index.html")
    assert 'id="technique.seam"' in built.text("techniques/index.html")
