"""Fifthpeg in MkDocs: which event does what.

All pages are scanned in ``on_files``, so that a page can use licks of other pages. Superfences
then asks for each block as it renders and gets an empty slot, which ``on_post_page`` fills.
"""

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache, partial
from pathlib import Path, PurePath

from mkdocs.config.config_options import ExtraScriptValue
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin, get_plugin_logger
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page
from mkdocs.utils import clean_directory, meta

from . import doors
from .model.tuner import tuner_sections
from .pages.addresses import BENCH_PAGE, PRACTICE_PAGE, TECHNIQUES_PAGE, TUNER_PAGE
from .pages.answers import Answers
from .pages.assets import SCRIPT_ADDRESS, STYLE_ADDRESS, asset_files
from .pages.bench import TITLE as BENCH_TITLE
from .pages.edition import Edition, edition
from .pages.extras import repaired_spot, small_tabs
from .pages.figure import title_of
from .pages.fingerprint import program_key, reading_key, sound_key, text_key
from .pages.generated import ShownOn, generated_files, generated_pages, lick_spots, lick_urls
from .pages.lesson import Lesson, lesson_head, techniques_markdown, with_lesson_head
from .pages.lifted import lift
from .pages.nav import expand_nav
from .pages.online import with_online_line
from .pages.own_recordings import own_bank_warnings
from .pages.part import OFF, left_out, part_of, prune_nav, unlink
from .pages.practice import TITLE as PRACTICE_TITLE, practice_markdown
from .pages.problem_box import problem_box
from .pages.publish import Stock, published_files
from .pages.readings import Readings
from .pages.shelf import link_or_copy
from .pages.slots import fill, slot
from .pages.spots import Spots
from .pages.titles import title_in
from .pages.tuner import TITLE as TUNER_TITLE, tuner_markdown
from .reading.course import read_course
from .reading.fences import BLOCK_NAMES
from .reading.lost_fences import Scanned, scan_page
from .reading.messages import message
from .reading.parse import parse
from .settings import Settings, defaults_of, options_of, online_address, own_bank_of, set_offline

log = get_plugin_logger("fifthpeg")
FENCES_EXTENSION = "pymdownx.superfences"
REMEMBERED_PAGES = 4096
READINGS_FILE = "readings"
TOOLS = {TUNER_PAGE: TUNER_TITLE, PRACTICE_PAGE: PRACTICE_TITLE}
BENCH = {BENCH_PAGE: BENCH_TITLE}
NOT_SCANNED = ("{page}: this block was not in the page's own file when it was read (an include, or another plugin, "
               "brought it in); write it on the page itself")
NOT_SHOWN = ("{page}:{line}: this block was read, but the page doesn't show it: is it in a comment, or indented like "
             "code?")


class KeptFile(File):
    """A file of the shelf: published as a second name for the same bytes, not as a copy."""

    def copy_file(self, dirty: bool = False) -> None:
        link_or_copy(self.abs_src_path, self.abs_dest_path)


class FifthpegPlugin(BasePlugin[Settings]):
    """One instance lives through all builds of a preview; what it remembers is by content."""

    def __init__(self) -> None:
        self.inclusion = InclusionLevel.is_included
        self.scan = lru_cache(REMEMBERED_PAGES)(scan_page)
        self.readings = Readings(parse)
        self.offline = OFF

    def on_startup(self, *, command: str, dirty: bool) -> None:
        if command == "serve":
            self.inclusion = InclusionLevel.is_in_serve

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        self.root = Path(config.config_file_path).parent if config.config_file_path else Path.cwd()
        self.online = online_address(config)
        if self.offline.wanted:
            set_offline(config, self.offline)
        self.options = options_of(self.config, config.site_name, own_bank_of(self.config))
        self.site_to_clean = None
        cache, salt = self.root / self.config.cache_dir, text_key(repr(self.options), program_key())
        self.stock = Stock(cache, salt, text_key(str(self.options.rate_hz), self.options.own_bank.key, sound_key()))
        self.answers = Answers(cache, salt)
        self.readings.open(cache / READINGS_FILE, reading_key())
        self._tell_of_own_bank(cache)
        _add_fences(config, self.slot_for)
        config.extra_css.append(STYLE_ADDRESS)
        config.extra_javascript.append(_after_the_text(SCRIPT_ADDRESS))
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        self.site_to_clean = config.site_dir if config.strict else None  # MkDocs has emptied it by now
        self.sources = {self._name(file): file for file in files.documentation_pages(inclusion=self.inclusion)}
        self.names = {file.src_uri: name for name, file in self.sources.items()}
        self.course = read_course(dict(self._scan()), defaults_of(self.config), self.readings.read,
                                  partial(doors.link_up, options=self.options))
        self.readings.keep()
        self.waiting = self.course.blocks_by_source()
        for problem in self.course.problems:
            log.warning(message(problem))
        gone = left_out(self.names, self.offline.only)
        self.shown_pages = {name for source, name in self.names.items() if source not in gone}
        self._publish(files, config)
        for source in gone:
            files.remove(self.sources[self.names[source]])
        self.gone = gone
        config.nav = prune_nav(config.nav, gone)
        return files

    def on_nav(self, nav: Navigation, **_: object) -> None:
        self.nav_pages = nav.pages

    def on_page_markdown(self, markdown: str, *, page: Page, **_: object) -> str:
        self.page_name = self.names.get(page.file.src_uri, page.file.src_uri)
        return with_lesson_head(markdown, lesson_head(page.meta, page.file.src_uri, self._title_of))

    def slot_for(self, source: str, *_: object, **__: object) -> str:
        """What superfences puts in place of a block. It would swallow an exception, so none is raised."""
        blocks = self.waiting.get((self.page_name, source))
        if not blocks:
            says = NOT_SCANNED.format(page=self.page_name)
            log.warning(says)
            return problem_box([says], source)
        block = blocks.pop(0) if len(blocks) > 1 else blocks[0]
        return slot(block.page, block.line)

    def on_page_content(self, html: str, **_: object) -> str:
        return self.lifted.with_facts(html)

    def on_post_page(self, output: str, *, page: Page, config: MkDocsConfig) -> str:
        ids: set[str] = set()
        filled_page, filled = fill(output, lambda spot: self.spots.content(spot, page.url, ids))
        scanned = self.course.pages.get(self.names.get(page.file.src_uri, ""))
        for block in scanned.blocks if scanned else ():
            if (block.page, block.line) not in filled:
                log.warning(NOT_SHOWN.format(page=block.page, line=block.line))
        return with_online_line(unlink(filled_page, page.file.src_uri, self.gone), self.online(page.file.src_uri))

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        self.stock.prune()
        self.answers.prune()

    def on_build_error(self, *, error: Exception) -> None:
        """A strict build that fails leaves nothing that could be taken for the site."""
        if self.site_to_clean and os.path.isdir(self.site_to_clean):
            clean_directory(self.site_to_clean)

    def on_serve(self, server: LiveReloadServer, *, config: MkDocsConfig, builder: Callable) -> LiveReloadServer:
        if self.config.own_bank:
            server.watch(self.config.own_bank)
        return server

    def _tell_of_own_bank(self, cache: Path) -> None:
        if not self.config.own_bank:
            return
        folder = PurePath(os.path.relpath(self.config.own_bank, self.root)).as_posix()
        for fault in own_bank_warnings(self.options.own_bank, cache, doors.own_bank_faults):
            log.warning(f"own_bank {folder}: {fault}")

    def _name(self, file: File) -> str:
        """A page as messages name it: from the folder of mkdocs.yml."""
        if file.abs_src_path is None:
            return file.src_uri
        return PurePath(os.path.relpath(file.abs_src_path, self.root)).as_posix()

    def _scan(self) -> Iterator[tuple[str, Scanned]]:
        for name, file in self.sources.items():
            written = file.content_string
            scanned = self.scan(written, name, slot)
            if scanned.text != written:
                file.content_string = scanned.text
            yield name, scanned

    def _publish(self, files: Files, config: MkDocsConfig) -> None:
        """All that no author wrote: pages, files, and what fills the slots of those that authors did write."""
        made, directory_urls = self._edition(), config.use_directory_urls
        shown_on = {lick_id: [self._shown_on(name) for name in names if name in self.shown_pages]
                    for lick_id, names in self.course.pages_showing().items()}
        extras = small_tabs(made.contexts, made.seams)
        endings = {repaired_spot(tab.lick.id or ""): tab for tab in made.library if tab.ending}
        self.lifted = lift(generated_pages(made.library, shown_on, directory_urls, made.neighbours, extras | endings))
        tools = TOOLS | (BENCH if made.neighbours.ids else {})
        config.nav = expand_nav(config.nav, made.library, goes_with=bool(made.neighbours.ids), tools=tools)
        practice = {PRACTICE_PAGE: practice_markdown(made.library, directory_urls)}
        _add_pages(files, config, self.lifted.pages | self._techniques() | practice)
        _add_files(files, config, asset_files(self.offline.wanted) | generated_files(
            made.library, shown_on, directory_urls, made.neighbours, made.vamps))
        _add_kept(files, config, [*map(published_files, made.all_tabs), self._bank(made)])
        self._add_tuner(files, config)
        self.spots = Spots(
            {**made.tabs, **lick_spots(made.library, extras)}, self.course.messages(),
            lick_urls(made.library, directory_urls), made.fits,
            {tab.lick.id or "": title_of(tab.lick) for tab in made.library}, self.lifted.lists, endings, made.beside)

    def _edition(self) -> Edition:
        """Made as a whole even where only a part is shown."""
        read = self.course.library
        made = edition({block.spot: lick for block, lick in read.by_block.items()}, read.licks,
                       {block.spot: request for block, request in read.fits.items()}, self.stock, self.answers,
                       doors.makers(self.options))
        return part_of(made, self.shown_pages) if self.offline.only else made

    def _bank(self, made: Edition) -> Mapping[str, Path]:
        return self.stock.publish_bank(made.all_heard, partial(doors.bank_scripts, options=self.options))

    def _add_tuner(self, files: Files, config: MkDocsConfig) -> None:
        sections = tuner_sections(lick for block, lick in self.course.library.by_block.items()
                                  if block.page in self.shown_pages)
        strings = tuple(dict.fromkeys(string for section in sections for string in section.strings))
        folder, sounds = self.stock.publish_tuner(strings, partial(doors.tuner_sounds, options=self.options))
        page = tuner_markdown(sections, folder, self.options.rate_hz, config.use_directory_urls)
        _add_pages(files, config, {TUNER_PAGE: page})
        _add_kept(files, config, [sounds])

    def _techniques(self) -> dict[str, str]:
        """The page of techniques, where any lesson names one."""
        lessons = [_lesson(file) for name, file in self.sources.items() if name in self.shown_pages]
        return {TECHNIQUES_PAGE: techniques_markdown(lessons)} if any(one.techniques for one in lessons) else {}

    def _title_of(self, source: str) -> str | None:
        name = self.names.get(source)
        return title_in(self.sources[name].content_string, PurePath(source).stem) if name else None

    def _shown_on(self, name: str) -> ShownOn:
        file = self.sources[name]
        return ShownOn(file.src_uri, file.url, title_in(file.content_string, PurePath(name).stem))


def _lesson(file: File) -> Lesson:
    """What its front matter says; a wrong one is told of when the page is read."""
    written = file.content_string
    _, said = meta.get_data(written)
    techniques = said.get("techniques")
    return Lesson(file.src_uri, title_in(written, PurePath(file.src_uri).stem),
                  said["level"] if isinstance(said.get("level"), int) else None, str(said.get("summary") or ""),
                  tuple(map(str, techniques)) if isinstance(techniques, list) else ())


def _after_the_text(address: str) -> ExtraScriptValue:
    """A script that keeps no reader waiting."""
    script = ExtraScriptValue(address)
    script.defer = True
    return script


def _add_fences(config: MkDocsConfig, formatter: Callable[..., str]) -> None:
    if FENCES_EXTENSION not in config.markdown_extensions:
        config.markdown_extensions.append(FENCES_EXTENSION)
    fences = config.mdx_configs.setdefault(FENCES_EXTENSION, {}).setdefault("custom_fences", [])
    fences += [{"name": name, "class": name, "format": formatter, "validator": _accept} for name in BLOCK_NAMES]


def _accept(*_: object) -> bool:
    """A fence refused here would vanish without a word; what is wrong with it is said elsewhere."""
    return True


def _add_pages(files: Files, config: MkDocsConfig, pages: Mapping[str, str]) -> None:
    """Adds the pages that no author has written himself."""
    for source, markdown in pages.items():
        if files.get_file_from_path(source) is None:
            files.append(File.generated(config, source, content=markdown))


def _add_files(files: Files, config: MkDocsConfig, contents: Mapping[str, str | bytes]) -> None:
    for address, content in contents.items():
        files.append(File.generated(config, address, content=content, inclusion=InclusionLevel.INCLUDED))


def _add_kept(files: Files, config: MkDocsConfig, kept: Iterable[Mapping[str, Path]]) -> None:
    """Equal blocks share their files, which are added once."""
    for address, path in {address: path for paths in kept for address, path in paths.items()}.items():
        files.append(KeptFile.generated(config, address, abs_src_path=str(path), inclusion=InclusionLevel.INCLUDED))
