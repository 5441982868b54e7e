"""A big made-up course for measuring builds: licks at random, always the same ones."""

import random
from pathlib import Path

from tests.sites import write_course

PAGES = 200
LICKS_A_PAGE = 3
SEED = 5
ROLES = ("lick", "tag", "fill", "roll", "kick-off", "break", "backup", "exercise")
ROLLS = ("T2 I3 M1 T5 I3 M1 T2 M1", "T3 I2 M1 T5 M1 I2 T3 M1", "T3 I2 T5 M1 T4 I2 T5 M1", "M1 I2 T5 M1 I2 T5 M1 I2")
FRETS = ("", "", "", ":2", ":3", ":2h3", ":3p0", ":2s4")
PROSE = "Play this slowly at first, and listen to each note before you go on to the next. " * 4
THEME = {"name": "material", "font": False, "features": ["navigation.prune", "navigation.indexes", "navigation.footer"]}
EXTENSIONS = ["admonition", "attr_list", "md_in_html", "pymdownx.superfences", {"toc": {"permalink": True}}]
CONFIG = {"theme": THEME, "markdown_extensions": EXTENSIONS, "extra": {"generator": False}}


def write_with_tabs(folder: Path) -> Path:
    pages = {f"lessons/page-{page:03}.md": _page(page, "tab") for page in range(PAGES)}
    return write_course(folder, pages, nav=[{"Lessons": sorted(pages)}, {"Licks": "licks/index.md"}], **CONFIG)


def write_plain(folder: Path, with_lick_pages: bool) -> Path:
    """The same pages with their blocks as code; if asked, the licks' pages and the catalogue as plain pages too."""
    lessons = {f"lessons/page-{page:03}.md": _page(page, "text") for page in range(PAGES)}
    nav: list[object] = [{"Lessons": sorted(lessons)}]
    licks = {f"licks/{name}.md": _lick_page(name) for name in _names()} if with_lick_pages else {}
    if licks:
        lessons["licks/index.md"] = "# Licks\n\n| lick | role |\n|---|---|\n" + "".join(
            f"| [{name}]({name}.md) | {_role(name)} |\n" for name in _names())
        by_role = {role: [f"licks/{name}.md" for name in _names() if _role(name) == role] for role in ROLES}
        nav.append({"Licks": ["licks/index.md", *({role: names} for role, names in by_role.items())]})
    return write_course(folder, lessons | licks, nav=nav, plugins=["search"], **CONFIG)


def _names() -> list[str]:
    return [_name(page, index) for page in range(PAGES) for index in range(LICKS_A_PAGE)]


def _name(page: int, index: int) -> str:
    return f"lick-{page:03}-{index}"


def _role(name: str) -> str:
    return ROLES[sum(map(ord, name)) % len(ROLES)]


def _page(page: int, fence: str) -> str:
    blocks = "\n\n".join(f"## Part {index + 1}\n\n{PROSE}\n\n{_block(_name(page, index), fence)}"
                         for index in range(LICKS_A_PAGE))
    return f"# Page {page}\n\n{PROSE}\n\n{blocks}\n"


def _lick_page(name: str) -> str:
    facts = "".join(f"| {fact} | some words |\n" for fact in ("Role", "Key", "Length", "Full tempo", "Tuning", "Looped"))
    return f"# {name}\n\n{_block(name, 'text')}\n\n| fact | value |\n|---|---|\n{facts}\n## Where it is taught\n\n- a page\n"


def _block(name: str, fence: str) -> str:
    made = random.Random(f"{SEED} {name}")
    bars = " | ".join(_bar(made) for _ in range(3))
    header = f"id: {name}\nrole: {_role(name)}\ntempo: {made.randrange(160, 220)}"
    return f"```{fence}\n{header}\n---\n[G] {bars}\n```"


def _bar(made: random.Random) -> str:
    """One of the rolls, with frets on the inner strings."""
    return " ".join(pluck + made.choice(FRETS) if pluck[1] in "34" else pluck for pluck in made.choice(ROLLS).split())
