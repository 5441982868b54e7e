"""A variant in a built course: its page shows both tabs, each with its own sound."""

import json
import re

from tests.sites import build_course, write_course

PAGE = """# Lesson

```tab
id: weir
title: Weir
---
[G] T3 I2 M1 T5 I2 M1 T3:2 M1
```

```tab
id: dark
from: weir
title: Dark weir
change:
  - 3:2 -> 3:3
```

```tab
show: dark
slots: 1.5-1.8
```
"""


def test_a_variant_s_page_has_two_tabs_and_says_what_changed(tmp_path):
    built = build_course(write_course(tmp_path, {"index.md": PAGE}), strict=True)
    assert built.failure is None, built.log
    page = built.text("licks/dark/index.html")
    assert re.findall(r'<figure class="fp-tab" id="([^"]*)"', page) == ["fp-dark", "fp-weir"]
    assert len(re.findall(r'class="fp-data"', page)) == 2
    assert "fret 3&#44; in place of" in page or "fret 3, in place of" in page
    assert json.loads(built.text("media/licks/dark/dark.json"))["varies"] == "weir"
    assert "thumb, string 3, fret 3, left ring, changed" in built.text("media/licks/dark/dark.svg")


def test_a_cut_showing_says_from_where_and_claims_no_roll(tmp_path):
    built = build_course(write_course(tmp_path, {"index.md": PAGE}), strict=True)
    page = built.text("index.html")
    assert "part of bar 1 · " in page and "Bar 1, from beat 3." in page
    (schedule,) = [json.loads(path.read_text()) for path in built.site.glob("media/blocks/*/*.json")]
    assert schedule["rolls"] == [] and [pluck["slot"] for pluck in schedule["plucks"]] == [5, 6, 7, 8]
