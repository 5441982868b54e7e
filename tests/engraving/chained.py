"""Chains put together by hand, so that their drawing is tested without the reckoning that finds their seams."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from fifthpeg.model.findings import CLASH, CLEAN, TIGHT, Findings, Join, Repair, Seam
from fifthpeg.model.lick import Lick, Linked
from tests.written import lick

WEIR_RUN = lick("id: weir-run\ntitle: Weir run\ntempo: 208\n---\n"
                "[D7] M1:4=4 I2:3 T3:2 M1 T4 I3:2 M1 T4 | I3:2=1 T4:4=3 - I3 T4:4 I3:2 T3:5=4 -")
SLUICE_TAG = lick("id: sluice-tag\ntitle: Sluice tag\ntempo: 208\n---\n"
                  "[G] I2+M1 - T3:2=2h3=3 I2 M1 T5 I2:3p0 M1 | T3:2p0 M1 T5 I3 M1 T4:0h2=2 I3 M1")
SLUICE_HELD = lick("id: sluice-tag\ntitle: Sluice tag\ntempo: 208\n---\n"
                   "[G] I2+M1 - T3:2=2h3=3 I2 M1 T5 I2:3p0 M1 | T3:2p0 M1 T5 I3 M1 T4:0h2=2 I3 -")
HOLD_IT = Repair("hold", "hold the G before instead of picking the last D (bar 2, the and of beat 4) with the middle "
                         "finger")
JOINS = {
    CLEAN: Join(CLEAN),
    TIGHT: Join(TIGHT, ("M",), 5.2, 254.0),
    CLASH: Join(CLASH, ("M",), 6.93, 195.0),
}


def row(*licks: Lick) -> Lick:
    """The licks in a row, bars numbered through; each link begins with its first bar."""
    bars, links = [], []
    for link in licks:
        links.append(Linked(link.id, link.title, (len(bars) + 1, 1)))
        bars += [replace(bar, number=len(bars) + place) for place, bar in enumerate(link.bars, start=1)]
    return replace(licks[0], bars=tuple(bars), id=None, title=", ".join(link.title for link in licks),
                   links=tuple(links))


def seams(chain: Lick, verdicts: Sequence[str]) -> Findings:
    """A seam with each verdict in turn."""
    return Findings({}, seams=tuple(Seam(number, *_ids(chain, number), Fraction(0), JOINS[verdict])
                                    for number, verdict in enumerate(verdicts)))


def repaired(chain: Lick) -> Findings:
    """The first seam held, the rest clean."""
    found = seams(chain, [CLEAN] * (len(chain.links) - 1))
    first = replace(found.seams[0], repair=HOLD_IT, unrepaired=JOINS[CLASH])
    return replace(found, seams=(first, *found.seams[1:]))


def _ids(chain: Lick, number: int) -> tuple[str, str]:
    return chain.links[number].id, chain.links[number + 1].id
