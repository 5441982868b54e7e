"""All that one build shows: every tab on the shelf, and what was found out about the library as a whole."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from ..compiled import Compiled, Filling, Neighbours
from ..model.chain import FitRequest
from ..model.findings import Fits
from ..model.lick import Lick
from .answers import Answers
from .nav import in_order
from .publish import Stock, as_whole
from .published import Published
from .slots import Spot


@dataclass(frozen=True)
class Makers:
    """The pipeline's doors at the site's options; each is called only for what the shelf lacks, or costs little."""

    compile_lick: Callable[[Lick, str], Compiled]
    neighbours: Callable[[Sequence[Lick]], Neighbours]
    find_fits: Callable[[FitRequest, Sequence[Lick]], Fits]
    fit_licks: Callable[[FitRequest, Fits, Sequence[Lick]], Sequence[Lick]]
    in_context: Callable[[Lick, Lick | None], Lick | None]
    mended_seams: Callable[[Lick], Mapping[int, Lick]]
    fillings: Callable[[Sequence[Lick]], Sequence[Filling]]
    chord_vamp: Callable[[Filling, Sequence[Lick]], Lick]


@dataclass(frozen=True)
class ShownFit:
    """A fit block answered: ``tabs`` are its best chains, in order."""

    request: FitRequest
    fits: Fits
    tabs: tuple[Published, ...]


@dataclass(frozen=True)
class Edition:
    """``tabs`` and ``fits`` by the spot of their block; ``library`` in the order of the catalogue; ``contexts`` by
    lick id: the lick after what it follows; ``beside`` the same by the spot of a chain block that asks for it; ``seams``
    by chain id and number of the link before: the bars around a seam, mended; ``vamps`` go with what time over their chord
    can be filled with."""

    tabs: Mapping[Spot, Published] = field(default_factory=dict)
    library: tuple[Published, ...] = ()
    fits: Mapping[Spot, ShownFit] = field(default_factory=dict)
    neighbours: Neighbours = Neighbours()
    contexts: Mapping[str, Published] = field(default_factory=dict)
    beside: Mapping[Spot, Published] = field(default_factory=dict)
    seams: Mapping[tuple[str, int], Published] = field(default_factory=dict)
    vamps: tuple[tuple[Filling, Published], ...] = ()

    @property
    def all_tabs(self) -> list[Published]:
        """Those with files of their own to publish; vamps are played by the bench alone."""
        fitted = [tab for shown in self.fits.values() for tab in shown.tabs]
        return [*self.tabs.values(), *self.library, *fitted, *self.contexts.values(), *self.beside.values(),
                *self.seams.values()]

    @property
    def all_heard(self) -> list[Published]:
        """Those whose sounds the bank needs."""
        return [*self.all_tabs, *(tab for _, tab in self.vamps)]


def edition(by_spot: Mapping[Spot, Lick], licks: Mapping[str, Lick], requests: Mapping[Spot, FitRequest], stock: Stock,
            answers: Answers, makers: Makers) -> Edition:
    """``by_spot`` are the licks that blocks draw, ``licks`` those with an id, ``requests`` of the fit blocks."""
    def publish(lick: Lick) -> Published:
        return stock.publish(lick, makers.compile_lick)

    tabs = {spot: publish(as_whole(lick, licks)) for spot, lick in by_spot.items()}
    library = tuple(sorted((tabs[spot] for spot, lick in by_spot.items() if lick.id), key=in_order))
    in_library = [tab.lick for tab in library]

    def shown(request: FitRequest) -> ShownFit:
        fits = answers.fits(request, library, lambda: makers.find_fits(request, in_library))
        return ShownFit(request, fits, tuple(map(publish, makers.fit_licks(request, fits, in_library))))

    contexts = {tab.lick.id or "": _in_context(tab.lick, licks, makers) for tab in library}
    beside = {spot: _in_context(lick, licks, makers) for spot, lick in by_spot.items()
              if lick.chain and lick.chain.context and lick.whole is None}
    return Edition(
        tabs, library, {spot: shown(request) for spot, request in requests.items()},
        answers.neighbours(library, lambda: makers.neighbours(in_library)),
        {lick_id: publish(lick) for lick_id, lick in contexts.items() if lick},
        {spot: publish(lick) for spot, lick in beside.items() if lick},
        {(tab.lick.id or "", link): publish(lick) for tab in library if _has_a_seam_to_mend(tab)
         for link, lick in makers.mended_seams(tab.lick).items()},
        tuple((filling, publish(makers.chord_vamp(filling, in_library)))
              for filling in answers.fillings(library, lambda: makers.fillings(in_library))))


def _in_context(lick: Lick, licks: Mapping[str, Lick], makers: Makers) -> Lick | None:
    return makers.in_context(lick, licks.get(lick.after)) if lick.after else None


def _has_a_seam_to_mend(tab: Published) -> bool:
    return any(seam.join.repairs for seam in tab.facts.seams)
