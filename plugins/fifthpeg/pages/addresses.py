"""Where things are published, and how one page of the site reaches another file of it."""

import posixpath
from dataclasses import dataclass

LICKS_FOLDER = "licks"
CATALOGUE_PAGE = f"{LICKS_FOLDER}/index.md"
GOES_WITH_PAGE = f"{LICKS_FOLDER}/goes-with.md"
GOES_WITH_STYLE_FILE = "media/goes-with.css"
TUNER_PAGE = "tuner.md"
PRACTICE_PAGE = "practice.md"
PRACTICE_SCRIPT_FILE = "assets/fifthpeg-practice.js"
BENCH_PAGE = "bench.md"
BENCH_SCRIPT_FILE = "assets/fifthpeg-bench.js"
BENCH_FOLDER = "media/bench/"
BENCH_LIBRARY_FILE = f"{BENCH_FOLDER}library.js"
TUNER_FOLDER = "media/tuner"
TECHNIQUES_PAGE = "techniques.md"
LIBRARY_FILE = "media/library.json"
FILTER_STYLE_FILE = "media/catalogue.css"
BANK_FOLDER = "media/bank"
FILE_ENDINGS = (".svg", ".mid", ".musicxml", ".json")
"""Of every lick; recordings come after them."""
SHORT_KEY = 12
"""Characters of a content key that name the folder of a block without an id."""


@dataclass(frozen=True)
class Address:
    """The folder and the beginning of the name of one lick's files, from the site's root."""

    folder: str
    stem: str

    def file(self, ending: str) -> str:
        return f"{self.folder}/{self.stem}{ending}"


def wav_ending(recording: str) -> str:
    return f"-{recording}.wav"


def lick_address(lick_id: str) -> Address:
    return Address(f"media/licks/{lick_id}", lick_id)


def block_address(content_key: str, stem: str) -> Address:
    """For a block without an id of its own; equal blocks share one address."""
    return Address(f"media/blocks/{content_key[:SHORT_KEY]}", stem)


def lick_page(lick_id: str) -> str:
    """The page's source file, as links in Markdown name it."""
    return f"{LICKS_FOLDER}/{lick_id}.md"


def lick_to_lick(lick_id: str, directory_urls: bool) -> str:
    """A short link from one lick's page to another's, of which a large library has very many."""
    return f"../{lick_id}/" if directory_urls else f"{lick_id}.html"


def page_url(source: str, directory_urls: bool) -> str:
    """The address a page of the site gets, from the site's root, as MkDocs forms it."""
    stem = source.removesuffix(".md")
    if not directory_urls:
        return f"{stem}.html"
    return stem.removesuffix("index") if posixpath.basename(stem) == "index" else f"{stem}/"


def bank_folder(bank_key: str) -> str:
    return f"{BANK_FOLDER}/{bank_key[:SHORT_KEY]}/"


def bench_notes_file(name: str) -> str:
    """What the bench needs to play a lick among others (``licks/<id>``), or a vamp (``vamps/<number>``)."""
    return f"{BENCH_FOLDER}{name}.js"


def tuner_folder(key: str) -> str:
    return f"{TUNER_FOLDER}/{key[:SHORT_KEY]}/"


def relative(target: str, page_url: str) -> str:
    """A link from the page at ``page_url`` to ``target``, both counted from the site's root.

    By way of the root: a page with many tabs needs many of these, and the shortest way takes ten times as long to find.
    """
    return "../" * page_url.count("/") + target or "./"
