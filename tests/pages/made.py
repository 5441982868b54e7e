"""A published lick for tests, without a pipeline behind it."""

from pathlib import Path

from fifthpeg.compiled import Facts
from fifthpeg.model.lick import TEMPO_NAMES, Lick
from fifthpeg.pages.addresses import lick_address
from fifthpeg.pages.published import Published
from tests.written import lick

ALL_RECORDED = Facts(recordings=TEMPO_NAMES)
BODY = "T3 I2 M1 T5 I2 M1 T3 M1"


def tab(header: str, facts: Facts = ALL_RECORDED) -> Published:
    """The lick with this header, as the pages get it."""
    return published(lick(f"{header}\n---\n{BODY}"), facts)


def published(made: Lick, facts: Facts = ALL_RECORDED) -> Published:
    return Published(lick=made, address=lick_address(made.id or "x"), facts=facts, inline="<svg></svg>", player="{}",
                     words=("Bar 1.",), bank_folder="media/bank/abc/", entry=Path("shelf"))
