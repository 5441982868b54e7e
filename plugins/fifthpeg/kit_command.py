"""``fifthpeg kit``: the course as a folder that opens by a double click, and the folder's zip."""

import argparse
import os
import re
import shutil
import subprocess
import tempfile
import unicodedata
from datetime import UTC, datetime
from pathlib import Path

from .course_files import SITE_FILE
from .pages.kit import (course_folder, files_of, lick_list, make_offline, size_of, write_cover, write_list, write_zip)
from .pages.kit_cover import COVER_FILE, LIST_FILE, Contents, ListedPage, cover_html, size_words
from .pages.safe_names import unsafe_names
from .refusal import WELL, Refusal

KIT_FOLDER = "kit"
EPOCH = "SOURCE_DATE_EPOCH"
NAMES_TOLD = 20


def add_kit(commands: argparse._SubParsersAction) -> None:
    making = commands.add_parser(
        "kit", help="make the folder that works without a network, and its zip",
        description="Make a folder with the whole course that opens by a double click and asks for no network, and a "
                    f"zip of it. The date in it is that of {EPOCH}, else of the last commit.")
    making.add_argument("--only", action="append", default=[], metavar="PAGE",
                        help="only this lesson, such as lessons/05; may be said again for more")
    making.add_argument("--light", action="store_true", help="without recordings as files; the player plays all the same")
    making.add_argument("--to", metavar="FOLDER", default=KIT_FOLDER, help=f"where to; {KIT_FOLDER} if not said")
    making.add_argument("--course", metavar="FILE", default=SITE_FILE,
                        help=f"the course's settings; {SITE_FILE} if not said")
    making.set_defaults(run=make_kit)


def make_kit(said: argparse.Namespace) -> int:
    """Folder and zip grow beside their place and are moved there when both are whole."""
    config_file, place = course_file(said.course), Path(said.to)
    seconds = moment_of(config_file)
    place.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix=".making-", dir=place) as making:
        kit, size_bytes = _build(config_file, Path(making), said, seconds)
        target, packed = place / kit.name, place / f"{kit.name}.zip"
        _refuse_to_overwrite(target)
        write_zip(kit, Path(making) / packed.name, seconds)
        shutil.rmtree(target, ignore_errors=True)
        kit.rename(target)
        (Path(making) / packed.name).replace(packed)
    print(f"{target}{os.sep}{COVER_FILE}: {len(files_of(target))} files, {size_words(size_bytes)}")
    print(f"{packed}: {size_words(packed.stat().st_size)}")
    return WELL


def course_file(said: str) -> Path:
    path = Path(said)
    if not path.is_file():
        raise Refusal(f"there is no {said} here; go to the course's folder, or name its settings with --course")
    return path


def moment_of(config_file: Path) -> int | None:
    """Seconds since 1970 that stand for the course as it is; the build is told of them too."""
    said = os.environ.get(EPOCH) or _last_commit(config_file.resolve().parent)
    if said and not said.isdigit():
        raise Refusal(f"{EPOCH} is to be seconds since 1970, not {said}")
    os.environ[EPOCH] = said or "0"
    return int(said) if said else None


def folder_name(course: str) -> str:
    """A course's name as every file system takes it: lower-case letters, digits, hyphens."""
    plain = unicodedata.normalize("NFKD", course).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:40].rstrip("-") or "course"


def build_course(config_file: Path, folder: Path, only: list[str], light: bool):
    """A site to be opened from a folder; ``settings.build_offline`` with what it refuses said to whoever typed it."""
    from .settings import build_offline  # not above: most commands need no MkDocs
    try:
        return build_offline(config_file, folder, only, light)
    except ValueError as error:
        raise Refusal(str(error)) from None


def _build(config_file: Path, making: Path, said: argparse.Namespace, seconds: int | None) -> tuple[Path, int]:
    """(the kit's folder, its size)."""
    built = build_course(config_file, making / "site", said.only, said.light)
    kit = making / (folder_name(built.name) + ("-part" if said.only else "") + ("-light" if said.light else ""))
    kit.mkdir()
    site = (making / "site").rename(course_folder(kit))
    make_offline(site)
    _refuse_unsafe(kit)
    licks = [ListedPage(title, url) for title, url in lick_list(site)]
    of_licks = {lick.url for lick in licks}
    files = files_of(kit)
    day = datetime.fromtimestamp(seconds, UTC).date().isoformat() if seconds else ""
    write_cover(kit, cover_html(Contents(
        built.name, [page for page in built.pages if page.url not in of_licks], licks, size_of(files.values()),
        len(files), day, said.light, bool(said.only))))
    write_list(kit)
    return kit, size_of(files_of(kit).values())


def _refuse_unsafe(kit: Path) -> None:
    faults = unsafe_names(f"{kit.name}/{name}" for name in files_of(kit))
    if faults:
        more = [f"and {len(faults) - NAMES_TOLD} more"] if len(faults) > NAMES_TOLD else []
        raise Refusal("\n  ".join(["some names would not arrive on a USB stick or on Windows:",
                                   *faults[:NAMES_TOLD], *more]))


def _refuse_to_overwrite(target: Path) -> None:
    """An earlier kit is replaced; anything else that is called so is somebody's own."""
    if target.exists() and not (target / LIST_FILE).is_file():
        raise Refusal(f"{target} is there already and is no kit; move it away, or choose another place with --to")


def _last_commit(folder: Path) -> str:
    """Its date in seconds; empty where there is no git or no commit."""
    try:
        done = subprocess.run(["git", "log", "-1", "--format=%ct"], cwd=folder, capture_output=True, text=True,
                              check=False)
    except OSError:
        return ""
    return done.stdout.strip()
