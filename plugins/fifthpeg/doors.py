"""The plugin's doors to what computes, opened when first gone through: a build that finds all on the shelf needs no
numpy, and then starts without it."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from importlib import import_module

from .compiled import Options
from .model.chain import Chain, Chained
from .model.own_bank import OwnBank
from .model.tuner import OpenString
from .pages.edition import Makers

BEHIND_MAKERS = (("pipeline", "compile_lick"), ("pipeline", "neighbours"), ("pipeline", "find_fits"),
                 ("companions", "fit_licks"), ("companions", "in_context"), ("companions", "mended_seams"),
                 ("pipeline", "fillings"), ("companions", "chord_vamp"))
"""Module and function behind each of ``Makers``."""


def makers(options: Options) -> Makers:
    return Makers(*(_with_options(module, name, options) for module, name in BEHIND_MAKERS))


def bank_scripts(names: Sequence[str], options: Options) -> Iterable[tuple[str, str]]:
    """As ``pipeline.bank_scripts``."""
    return _through("pipeline", "bank_scripts", names, options) if names else ()


def tuner_sounds(strings: Sequence[OpenString], options: Options) -> Mapping[str, bytes]:
    """As ``pipeline.tuner_sounds``."""
    return _through("pipeline", "tuner_sounds", strings, options)


def own_bank_faults(own: OwnBank) -> list[str]:
    """As ``pipeline.own_bank_faults``."""
    return _through("pipeline", "own_bank_faults", own)


def link_up(chain: Chain, options: Options) -> Chained:
    """As ``analysis.chain.link_up`` at the site's speeds: a course without chains needs no analysis."""
    return _through("analysis.chain", "link_up", chain, *options.speeds)


def _with_options(module: str, name: str, options: Options) -> Callable:
    return lambda *values: _through(module, name, *values, options)


def _through(module: str, name: str, *values: object):
    return getattr(import_module(f".{module}", __package__), name)(*values)
