"""The offline folder and its zip: a built site becomes something to carry on a stick.

The same site gives the same bytes: names are sorted, and every file has the date that is handed in.
"""

import hashlib
import json
import zipfile
from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path

from .kit_cover import COURSE_FOLDER, COVER_FILE, LIST_FILE

NEEDLESS = ("404.html", "sitemap.xml", "sitemap.xml.gz")
"""What only a web server has use for. Its page for wrong addresses would ask for files at the root of the disk."""
NEEDLESS_ENDING = ".map"
SEARCH_INDEX, SEARCH_SCRIPT = "search/search_index.json", "search/search_index.js"
FIRST_ZIP_YEAR = 1980
SQUEEZED = 6
FILE_MODE = 0o100644


def make_offline(site: Path) -> None:
    """Takes away what needs a server, and brings the search index along as a script: file:// lets no page read JSON."""
    for path in [*map(site.joinpath, NEEDLESS), *site.rglob(f"*{NEEDLESS_ENDING}")]:
        path.unlink(missing_ok=True)
    index = site / SEARCH_INDEX
    if index.is_file():
        (site / SEARCH_SCRIPT).write_text(f"var __index = {index.read_text(encoding='utf-8')}", encoding="utf-8")


def files_of(folder: Path) -> dict[str, Path]:
    """Path below the folder -> file, sorted."""
    found = {path.relative_to(folder).as_posix(): path for path in folder.rglob("*") if path.is_file()}
    return dict(sorted(found.items()))


def size_of(files: Iterable[Path]) -> int:
    return sum(path.stat().st_size for path in files)


def lick_list(site: Path) -> list[tuple[str, str]]:
    """(title, address from the site's root) of every lick."""
    licks = json.loads((site / "media/library.json").read_text(encoding="utf-8"))["licks"]
    return [(lick["title"], lick["url"]) for lick in licks]


def write_cover(folder: Path, page: str) -> None:
    (folder / COVER_FILE).write_text(page, encoding="utf-8")


def write_list(folder: Path) -> None:
    """``files.txt`` in the form that ``sha256sum -c`` reads; it can't name itself."""
    lines = (f"{hashlib.sha256(path.read_bytes()).hexdigest()}  {name}\n"
             for name, path in files_of(folder).items() if name != LIST_FILE)
    (folder / LIST_FILE).write_text("".join(lines), encoding="utf-8", newline="\n")


def write_zip(folder: Path, target: Path, seconds: int | None) -> None:
    """``seconds`` since 1970, in UTC, become the date of every file."""
    with zipfile.ZipFile(target, "w") as packed:
        for name, path in files_of(folder).items():
            entry = zipfile.ZipInfo(f"{folder.name}/{name}", _zip_date(seconds))
            entry.compress_type, entry.external_attr, entry.create_system = zipfile.ZIP_DEFLATED, FILE_MODE << 16, 3
            packed.writestr(entry, path.read_bytes(), compresslevel=SQUEEZED)


def _zip_date(seconds: int | None) -> tuple[int, int, int, int, int, int]:
    moment = datetime.fromtimestamp(seconds or 0, UTC)
    return moment.timetuple()[:6] if moment.year >= FIRST_ZIP_YEAR else (FIRST_ZIP_YEAR, 1, 1, 0, 0, 0)


def course_folder(folder: Path) -> Path:
    return folder / COURSE_FOLDER
