"""``fifthpeg packet``: the course, or some of its lessons, for paper."""

import argparse
import os
import shutil
import subprocess
import tempfile
from datetime import UTC, datetime
from pathlib import Path

from .course_files import SITE_FILE
from .kit_command import build_course, course_file, moment_of
from .pages.addresses import page_url
from .pages.assets import packet_style
from .pages.kit_cover import size_words
from .pages.packet import PacketLesson, packet_html
from .refusal import WELL, Refusal

PACKET_FILE = "packet.pdf"
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "chromium-headless-shell",
            "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
            "/Applications/Chromium.app/Contents/MacOS/Chromium")
"""Looked for in this order, as the project's tests do."""
NO_BROWSER = ("a PDF needs Chromium or Chrome. Install one, or say where it is with FIFTHPEG_BROWSER=/path/to/chromium; "
              "or write a page with --to packet.html, open it in any browser and print it from there")
PRINTING_SECONDS = 300
"""A browser that takes longer has hung."""


def add_packet(commands: argparse._SubParsersAction) -> None:
    making = commands.add_parser(
        "packet", help="put the lessons on paper, as one PDF or page",
        description="Put all pages that someone has written, or the named ones, on one printable page with a list of them in "
                    "front. A PDF is made by an installed Chromium or Chrome.")
    making.add_argument("lessons", nargs="*", metavar="LESSON", help="such as lessons/05; all pages if none")
    making.add_argument("--to", metavar="FILE", default=PACKET_FILE,
                        help=f"a name that ends in .pdf or .html; {PACKET_FILE} if not said")
    making.add_argument("--words", action="store_true", help="follow each tab by its reading in words, finger by finger")
    making.add_argument("--course", metavar="FILE", default=SITE_FILE,
                        help=f"the course's settings; {SITE_FILE} if not said")
    making.set_defaults(run=make_packet)


def make_packet(said: argparse.Namespace) -> int:
    target, config_file = Path(said.to), course_file(said.course)
    if target.suffix.lower() not in (".pdf", ".html"):
        raise Refusal(f"{target}: the packet's name is to end in .pdf or .html")
    if not target.parent.is_dir():
        raise Refusal(f"there is no folder {target.parent}; make it first, or choose another place with --to")
    browser = _browser() if target.suffix.lower() == ".pdf" else None
    page = _page(config_file, said.lessons, said.words)
    if browser:
        _print(browser, page, target)
    else:
        target.write_text(page, encoding="utf-8")
    print(f"{target}: {size_words(target.stat().st_size)}")
    return WELL


def _page(config_file: Path, wanted: list[str], words: bool) -> str:
    seconds = moment_of(config_file)
    day = datetime.fromtimestamp(seconds, UTC).date().isoformat() if seconds else ""
    with tempfile.TemporaryDirectory(prefix="fifthpeg-packet-") as folder:
        site = build_course(config_file, Path(folder), wanted, light=True)
        shown = [page for page in site.pages if page.source in (site.chosen or site.authored)]
        lessons = [PacketLesson(page.title, page.url, (Path(folder) / page.url).read_text(encoding="utf-8"),
                                f"{site.url}{page_url(page.source, site.directory_urls)}" if site.url else "")
                   for page in shown]
    return packet_html(site.name, lessons, packet_style(), day, words)


def _browser() -> str:
    """The one that was named and no other, else the first that is installed."""
    named = os.environ.get("FIFTHPEG_BROWSER")
    found = next(filter(None, map(shutil.which, [named] if named else BROWSERS)), None)
    if found is None:
        raise Refusal(f"FIFTHPEG_BROWSER names {named}, and there is no such program" if named else NO_BROWSER)
    return found


def _print(browser: str, page: str, target: Path) -> None:
    with tempfile.TemporaryDirectory(prefix="fifthpeg-packet-") as folder:
        source, printed = Path(folder) / "packet.html", Path(folder) / "packet.pdf"
        source.write_text(page, encoding="utf-8")
        # A profile of its own: with a reader's own, a browser that is open already would be asked, and prints nothing.
        command = [browser, "--headless", "--disable-gpu", "--no-first-run", "--disable-background-networking",
                   f"--user-data-dir={folder}/profile", "--no-pdf-header-footer", f"--print-to-pdf={printed}", source.as_uri()]
        command[1:1] = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
        try:
            done = subprocess.run(command, capture_output=True, text=True, timeout=PRINTING_SECONDS, check=False)
        except subprocess.TimeoutExpired:
            raise Refusal(f"{browser} did not finish the PDF; try --to packet.html and print it from a browser") from None
        if not printed.is_file():
            said = done.stderr.strip()[-300:]
            raise Refusal(f"{browser} made no PDF; try --to packet.html and print it from a browser"
                          + (f". It said: {said}" if said else ""))
        shutil.copyfile(printed, target)
