"""Small sites, built the way `mkdocs build` and `mkdocs serve` build them."""

import io
import logging
from dataclasses import dataclass
from pathlib import Path

import yaml
from click import ClickException
from mkdocs.commands.build import build
from mkdocs.config import load_config

ONE_LICK = """\
# A first page

```tab
id: weir-run
title: Weir run
role: lick
tempo: 208
---
[D7] M1:4=4 I2:3 T3:2 M1 T4 I3:2 M1 T4
```
"""
TOO_SHORT = """\
# Another page

Before.

```tab
id: too-short
---
T3 I2 M1
```

After.
"""


@dataclass(frozen=True)
class Built:
    """``log`` is what the terminal shows from a warning up; ``failure`` the error that ended the build, if any."""

    folder: Path
    site: Path
    log: str
    failure: Exception | None

    def text(self, address: str) -> str:
        return (self.site / address).read_text(encoding="utf-8")


def write_course(folder: Path, pages: dict[str, str], **config: object) -> Path:
    """A course with these pages (by path below content/); gives its mkdocs.yml."""
    for name, text in pages.items():
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    settings = {
        "site_name": "Tests", "docs_dir": "content", "plugins": ["search", "fifthpeg"],
        "theme": {"name": "material", "font": False},
        "markdown_extensions": ["admonition", "pymdownx.superfences", {"pymdownx.tabbed": {"alternate_style": True}}],
    }
    path = folder / "mkdocs.yml"
    path.write_text(yaml.safe_dump(settings | config, sort_keys=False), encoding="utf-8")
    return path


def build_course(config_file: Path, strict: bool = False, serve_url: str | None = None) -> Built:
    words = io.StringIO()
    listener = logging.StreamHandler(words)
    listener.setLevel(logging.WARNING)
    logger = logging.getLogger("mkdocs")
    logger.addHandler(listener)
    failure = None
    try:
        config = load_config(str(config_file), strict=strict)
        config.plugins.on_startup(command="serve" if serve_url else "build", dirty=False)
        build(config, serve_url=serve_url)
    except ClickException as error:
        failure = error
    finally:
        logger.removeHandler(listener)
    return Built(config_file.parent, config_file.parent / "site", words.getvalue(), failure)


def build_pages(folder: Path, pages: dict[str, str], strict: bool = False, **config: object) -> Built:
    return build_course(write_course(folder, pages, **config), strict)
