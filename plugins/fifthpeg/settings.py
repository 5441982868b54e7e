"""What mkdocs.yml may say under ``plugins: - fifthpeg:``."""

from fractions import Fraction
from pathlib import Path

from mkdocs.config import base
from mkdocs.config import config_options as option
from mkdocs.exceptions import PluginError

from .compiled import DEFAULT_BACKING_BELOW_LU, DEFAULT_LOUDNESS_LUFS, DEFAULT_RATE_HZ, NO_ROOM, ROOM_NAMES, Options
from .model.hands import CLASH_PER_SECOND, TIGHT_PER_SECOND, WIDEST_SPAN_MM
from .model.lick import TEMPO_NAMES
from .model.own_bank import NO_OWN_BANK, OwnBank
from .pages.own_recordings import read_own_bank
from .reading.parse import Defaults

RATES_HZ = (22_050, 32_000, 44_100, 48_000)
LOUDNESS_RANGE_LUFS = (-40.0, -14.0)
BACKING_RANGE_LU = (0.0, 30.0)


class Settings(base.Config):
    """Names and defaults; each is explained where it is used."""

    own_bank = option.Optional(option.Dir(exists=True))
    cache_dir = option.Type(str, default=".cache/fifthpeg")
    key = option.Type(str, default=Defaults().key)
    tempo = option.Type((int, float), default=int(Defaults().tempo))
    rights = option.Type(str, default="")
    rate_hz = option.Choice(RATES_HZ, default=DEFAULT_RATE_HZ)
    loudness_lufs = option.Type((int, float), default=DEFAULT_LOUDNESS_LUFS)
    tight_per_second = option.Type((int, float), default=TIGHT_PER_SECOND)
    clash_per_second = option.Type((int, float), default=CLASH_PER_SECOND)
    widest_span_mm = option.Type((int, float), default=WIDEST_SPAN_MM)
    recordings = option.ListOfItems(option.Choice(TEMPO_NAMES), default=list(TEMPO_NAMES))
    backing_in_recordings = option.Type(bool, default=True)
    backing_below_lu = option.Type((int, float), default=DEFAULT_BACKING_BELOW_LU)
    stereo = option.Type(bool, default=False)
    room = option.Choice(ROOM_NAMES, default=NO_ROOM)

    def validate(self):
        failed, warned = super().validate()
        low, high = LOUDNESS_RANGE_LUFS
        if not failed and not low <= self.loudness_lufs <= high:
            failed.append(("loudness_lufs", base.ValidationError(f"{self.loudness_lufs} is not between {low} and {high}")))
        if not failed and not 0 < self.tight_per_second <= self.clash_per_second:
            failed.append(("tight_per_second", base.ValidationError("must be above 0 and no higher than clash_per_second")))
        if not failed and self.widest_span_mm <= 0:
            failed.append(("widest_span_mm", base.ValidationError("must be above 0, in millimetres")))
        low, high = BACKING_RANGE_LU
        if not failed and not low <= self.backing_below_lu <= high:
            says = f"{self.backing_below_lu} is not between {low} (as loud as the lick) and {high} (hardly heard)"
            failed.append(("backing_below_lu", base.ValidationError(says)))
        return failed, warned


def defaults_of(settings: Settings) -> Defaults:
    """What a tab takes from the site where it says nothing itself."""
    return Defaults(key=settings.key, tempo=Fraction(str(settings.tempo)), rights=settings.rights)


def options_of(settings: Settings, course: str = "", own_bank: OwnBank = NO_OWN_BANK) -> Options:
    """``course`` is the site's name."""
    return Options(
        settings.rate_hz, float(settings.loudness_lufs), float(settings.tight_per_second),
        float(settings.clash_per_second), float(settings.widest_span_mm), recordings=tuple(settings.recordings),
        backing_in_recordings=settings.backing_in_recordings, backing_below_lu=float(settings.backing_below_lu),
        stereo=settings.stereo, room=settings.room, course=course,
        own_bank=own_bank)


def own_bank_of(settings: Settings) -> OwnBank:
    if not settings.own_bank:
        return NO_OWN_BANK
    try:
        return read_own_bank(Path(settings.own_bank))
    except OSError as error:
        raise PluginError(f"own_bank: the folder {settings.own_bank} can't be read ({error.strerror})") from error
