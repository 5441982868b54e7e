"""Where a course's pages lie on the disk, for the commands that read them without building."""

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from .refusal import Refusal

SITE_FILE = "mkdocs.yml"
_DOCS_DIR = re.compile(r"^docs_dir:[ ]*[\"']?(?P<folder>[^\"'#\n]+?)[\"']?[ ]*(?:#.*)?$", re.MULTILINE)


def markdown_files(paths: Iterable[str]) -> list[Path]:
    found: list[Path] = []
    for path in [Path(path) for path in paths] or [docs_folder(Path.cwd())]:
        if path.is_dir():
            found += sorted(path.rglob("*.md"))
        elif path.is_file():
            found.append(path)
        else:
            raise Refusal(f"there is no file or folder {path}")
    return list(dict.fromkeys(found))


def course_files(wanted: Iterable[Path]) -> Iterator[Path]:
    """All pages of the courses the wanted pages belong to, since a page may use licks of another."""
    folders = dict.fromkeys(docs_folder(path.resolve().parent) for path in wanted)
    for folder in folders:
        if (_site_root(folder) / SITE_FILE).is_file():
            yield from sorted(folder.rglob("*.md"))


def docs_folder(folder: Path) -> Path:
    """Where the course's pages lie, by its mkdocs.yml; the folder itself where there is none."""
    root = _site_root(folder)
    if not (root / SITE_FILE).is_file():
        return folder
    said = _DOCS_DIR.search((root / SITE_FILE).read_text(encoding="utf-8"))
    return root / (said["folder"] if said else "docs")


def page_name(path: Path) -> str:
    """A page as messages name it: from the folder one stands in, where it lies below that."""
    resolved = path.resolve()
    return resolved.relative_to(Path.cwd()).as_posix() if resolved.is_relative_to(Path.cwd()) else resolved.as_posix()


def text_of(path: Path) -> str:
    """The page with its line ends as they are."""
    try:
        with path.open(encoding="utf-8", newline="") as file:
            return file.read()
    except UnicodeDecodeError:
        raise Refusal(f"{path} is not a text in UTF-8; save it as UTF-8 and try again") from None


def _site_root(folder: Path) -> Path:
    folder = folder.resolve()
    return next((above for above in (folder, *folder.parents) if (above / SITE_FILE).is_file()), folder)
