"""What mkdocs.yml may say under ``plugins: - fifthpeg:``, and the site built from it to be opened from a folder."""

import logging
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from mkdocs.commands.build import build
from mkdocs.config import base, load_config
from mkdocs.config import config_options as option
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, ConfigurationError, PluginError
from mkdocs.structure.files import get_files

from .compiled import (
    DEFAULT_BACKING_BELOW_LU,
    DEFAULT_LOUDNESS_LUFS,
    DEFAULT_RATE_HZ,
    DEFAULT_TICK_LEVEL,
    NO_ROOM,
    ROOM_NAMES,
    Options,
)
from .model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND, WIDEST_SPAN_MM
from .model.lick import TEMPO_NAMES
from .model.own_bank import NO_OWN_BANK, OwnBank
from .pages.addresses import page_url
from .pages.assets import OFFLINE_SCRIPT_ADDRESS
from .pages.kit_cover import ListedPage
from .pages.own_recordings import read_own_bank
from .pages.part import OFF, Offline, chosen_pages
from .reading.keys import TEMPO_RANGE
from .reading.messages import nearest
from .reading.parse import Defaults
from .refusal import Refusal
from .setting_values import key, number, one_of, some_of, switch, words

PLUGIN_NAME = "fifthpeg"
RATES_HZ = (22_050, 32_000, 44_100, 48_000)
_TICK_LEVEL = number(0, 200, "silent", "twice as loud as usual", "per cent")
_SPEED = number(0.1, 100, unit="picks a second")


class Said(base.BaseConfigOption):
    """A setting read by a plain function; where the site says nothing, or nothing behind the colon, the default."""

    def __init__(self, read: Callable[[Any], Any], default: Any):
        super().__init__()
        self.read, self.default = read, default

    def run_validation(self, value: Any) -> Any:
        try:
            return self.default if value is None else self.read(value)
        except ValueError as error:
            raise base.ValidationError(str(error)) from None


class BankFolder(option.Dir):
    def run_validation(self, value: Any) -> str:
        try:
            return super().run_validation(value)
        except base.ValidationError:
            raise base.ValidationError(f"there is no folder {value}; it is looked for from the folder of mkdocs.yml") from None


class Settings(base.Config):
    """Names and defaults; each is explained where it is used."""

    own_bank = option.Optional(BankFolder(exists=True))
    cache_dir = Said(words, ".cache/fifthpeg")
    key = Said(key, Defaults().key)
    tempo = Said(number(*TEMPO_RANGE, unit="beats a minute"), int(Defaults().tempo))
    rights = Said(words, "")
    rate_hz = Said(one_of(*RATES_HZ), DEFAULT_RATE_HZ)
    loudness_lufs = Said(number(-40, -14, "soft", "loud"), DEFAULT_LOUDNESS_LUFS)
    tight_per_second = Said(_SPEED, TIGHT_PER_SECOND)
    clash_per_second = Said(_SPEED, CLASH_PER_SECOND)
    widest_span_mm = Said(number(1, 1000, unit="millimetres"), WIDEST_SPAN_MM)
    recordings = Said(some_of(*TEMPO_NAMES), list(TEMPO_NAMES))
    backing_in_recordings = Said(switch, True)
    backing_below_lu = Said(number(0, 30, "as loud as the lick", "hardly heard"), DEFAULT_BACKING_BELOW_LU)
    click_in_recordings = Said(switch, False)
    click_level = Said(_TICK_LEVEL, DEFAULT_TICK_LEVEL)
    count_in_recordings = Said(switch, False)
    count_level = Said(_TICK_LEVEL, DEFAULT_TICK_LEVEL)
    stereo = Said(switch, False)
    room = Said(one_of(*ROOM_NAMES), NO_ROOM)

    def validate(self):
        failed, warned = super().validate()
        if not failed and self.tight_per_second > self.clash_per_second:
            failed.append(("tight_per_second", base.ValidationError(
                f"{self.tight_per_second} is higher than clash_per_second, {self.clash_per_second}; a clash is the faster of the two")))
        return failed, [(name, says if name in self._schema_keys else _no_such_setting(name)) for name, says in warned]


def _no_such_setting(name: str) -> str:
    meant = nearest(str(name), [known for known, _ in Settings._schema])
    return f"there is no setting {name}" + (f"; do you mean {meant}?" if meant else "; the README lists them all")


def defaults_of(settings: Settings) -> Defaults:
    """What a tab takes from the site where it says nothing itself."""
    return Defaults(key=settings.key, tempo=Fraction(str(settings.tempo)), rights=settings.rights)


def options_of(settings: Settings, course: str = "", own_bank: OwnBank = NO_OWN_BANK) -> Options:
    """``course`` is the site's name."""
    return Options(
        settings.rate_hz, float(settings.loudness_lufs), float(settings.tight_per_second),
        float(settings.clash_per_second), float(settings.widest_span_mm), recordings=tuple(settings.recordings),
        backing_in_recordings=settings.backing_in_recordings, backing_below_lu=float(settings.backing_below_lu),
        click_in_recordings=settings.click_in_recordings, click_level=float(settings.click_level),
        count_in_recordings=settings.count_in_recordings, count_level=float(settings.count_level),
        stereo=settings.stereo, room=settings.room, course=course, own_bank=own_bank)


def own_bank_of(settings: Settings) -> OwnBank:
    if not settings.own_bank:
        return NO_OWN_BANK
    try:
        return read_own_bank(Path(settings.own_bank))
    except OSError as error:
        raise PluginError(f"own_bank: the folder {settings.own_bank} can't be read ({error.strerror})") from error


@dataclass(frozen=True)
class OfflineSite:
    """``pages`` in the order of the menu, those of single licks among them; ``authored`` and ``chosen`` are source files.

    ``url`` and ``directory_urls`` say where and in which form the course stands in the web; ``url`` may be empty.
    """

    name: str
    url: str
    directory_urls: bool
    pages: Sequence[ListedPage]
    authored: frozenset[str]
    chosen: frozenset[str]


def build_offline(config_file: Path, folder: Path, only: Iterable[str], light: bool) -> OfflineSite:
    """Builds the course into ``folder``. What is wrong with it is told on stderr, as any build tells it.

    Raises Refusal where the course can't be built, and ValueError where ``only`` names no page.
    """
    plugin = None
    try:
        config = load_config(str(config_file), site_dir=str(folder), strict=True)
        plugin = config.plugins.get(PLUGIN_NAME)
        if plugin is None:
            raise Refusal(f"{config_file} does not name the plugin {PLUGIN_NAME} under `plugins`")
        sources = [file.src_uri for file in get_files(config) if file.is_documentation_page()]
        directory_urls = config.use_directory_urls
        plugin.offline = offline = Offline(True, chosen_pages(only, sources, Path(config.docs_dir).name), light)
        plugin.config.recordings = [] if light else plugin.config.recordings
        config.plugins.on_startup(command="build", dirty=False)
        with _told_on_stderr():
            build(config)
    except (Abort, ConfigurationError) as error:
        raise Refusal(f"{config_file}: the course can't be built ({error}); mend what is named above") from None
    finally:
        if plugin is not None:
            plugin.offline = OFF  # MkDocs gives the same instance to the next build of this process
    pages = [ListedPage(str(page.title), page.url, str(page.meta.get("summary") or ""), page.file.src_uri)
             for page in plugin.nav_pages]
    return OfflineSite(config.site_name, config.site_url or "", directory_urls, pages, frozenset(sources),
                       offline.only)


def online_address(config: MkDocsConfig) -> Callable[[str], str]:
    """From a page's source file to its address in the web; empty where the course has none.

    As ``config`` is now: a folder to carry away has other addresses in it, but paper leads to the web.
    """
    root, directory_urls = config.site_url or "", config.use_directory_urls
    return lambda source: f"{root}{page_url(source, directory_urls)}" if root else ""


def set_offline(config: MkDocsConfig, offline: Offline) -> None:
    """Links name files; the search runs without a server; links to what is left out are no fault of the author's."""
    config.use_directory_urls = False
    config.extra["offline"] = True
    config.extra["polyfills"] = [*config.extra.get("polyfills", ()), OFFLINE_SCRIPT_ADDRESS]
    if offline.only:
        config.validation.links.not_found = logging.DEBUG


@contextmanager
def _told_on_stderr() -> Iterator[None]:
    listener = logging.StreamHandler()
    listener.setLevel(logging.WARNING)
    logging.getLogger("mkdocs").addHandler(listener)
    try:
        yield
    finally:
        logging.getLogger("mkdocs").removeHandler(listener)
