"""Pictures of sounds as SVG to stand in a page: charts, waveforms, spectrograms, drawn by matplotlib.

Their ink is the page's own (``currentColor``), so that they follow a light or a dark palette; the same samples give
the same text. matplotlib is imported where it is used: only ``fifthpeg sound report`` needs it.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from io import StringIO

import numpy as np

INK = "#010203"
"""Stands for the page's own ink until the drawing is text; nothing else has this colour."""
MARKERS = ("o", "s", "^", "D", "v")
DASHES = ("-", "--", "-.", ":", (0, (5, 1, 1, 1, 1, 1)))
CHART_INCHES = (6.4, 2.6)
PANEL_INCHES = (2.1, 2.6)
COLUMNS_OF_A_WAVE = 240
WAVE_SECONDS = 0.6
SPECTROGRAM_WINDOW, SPECTROGRAM_HOP = 512, 256
HIGHEST_HZ = 8_000.0
FLOOR_DB = -75.0
STYLE = {
    "svg.fonttype": "none", "font.size": 8.0, "font.family": "sans-serif",
    "text.color": INK, "axes.edgecolor": INK, "axes.labelcolor": INK, "xtick.color": INK, "ytick.color": INK,
    "axes.spines.top": False, "axes.spines.right": False, "axes.linewidth": 0.6, "lines.linewidth": 0.9, "lines.markersize": 3.0,
    "legend.frameon": False, "figure.facecolor": "none", "axes.facecolor": "none", "savefig.facecolor": "none",
}


@dataclass(frozen=True)
class Sound:
    """``title`` stands above its picture."""

    title: str
    samples: np.ndarray
    rate_hz: int


def chart(name: str, label: str, lines: Mapping[str, Sequence[tuple[int, float]]], least_span: float = 0.0) -> str:
    """Lines of (fret, value), told apart by marker and dash; ``name`` must differ from that of any other picture of a page.

    The upright axis spans no less than ``least_span``.
    """
    from matplotlib import rc_context
    from matplotlib.figure import Figure
    with rc_context(STYLE | {"svg.hashsalt": name}):
        figure = Figure(CHART_INCHES, layout="constrained")
        axes = figure.subplots()
        for (said, points), marker, dash in zip(lines.items(), MARKERS, DASHES, strict=False):
            axes.plot(*zip(*points, strict=True), color=INK, marker=marker, linestyle=dash, label=said, markerfacecolor="none")
        low, high = axes.get_ylim()
        spare = max(0.0, least_span - (high - low)) / 2
        axes.set(xlabel="Fret", ylabel=label, ylim=(low - spare, high + spare))
        figure.legend(loc="outside right upper")
        return _svg(figure)


def portraits(name: str, sounds: Sequence[Sound]) -> str:
    """Each sound's outline above its spectrogram, side by side."""
    from matplotlib import rc_context
    from matplotlib.figure import Figure
    with rc_context(STYLE | {"svg.hashsalt": name}):
        figure = Figure((PANEL_INCHES[0] * len(sounds), PANEL_INCHES[1]), layout="constrained")
        rows = figure.subplots(2, len(sounds), squeeze=False, sharex="col", sharey="row", height_ratios=(2, 3))
        for sound, wave, spectrogram in zip(sounds, *rows, strict=True):
            _outline(wave, sound)
            _spectrogram(spectrogram, sound)
        rows[0][0].set_ylabel("Wave")
        rows[1][0].set_ylabel("kHz")
        return _svg(figure)


def _outline(axes, sound: Sound) -> None:
    """Highest and lowest sample of each of a few hundred short stretches."""
    frames = round(WAVE_SECONDS * sound.rate_hz)
    shown = np.pad(sound.samples[:frames], (0, max(0, frames - len(sound.samples))))
    stretches = shown[:frames - frames % COLUMNS_OF_A_WAVE].reshape(COLUMNS_OF_A_WAVE, -1)
    seconds = np.arange(COLUMNS_OF_A_WAVE) * WAVE_SECONDS / COLUMNS_OF_A_WAVE
    axes.fill_between(seconds, stretches.min(axis=1), stretches.max(axis=1), color=INK, linewidth=0.3)
    axes.set_title(sound.title, fontsize=8)


def _spectrogram(axes, sound: Sound) -> None:
    """In dB below its own loudest point."""
    power = np.square(np.abs(np.fft.rfft(_windows(sound), axis=1)))
    bins = int(HIGHEST_HZ / sound.rate_hz * SPECTROGRAM_WINDOW) + 1
    shown = 10 * np.log10(np.maximum(power[:, :bins] / power.max(), 10 ** (FLOOR_DB / 10)))
    axes.imshow(shown.T, origin="lower", aspect="auto", cmap="magma", vmin=FLOOR_DB, vmax=0, interpolation="none",
                extent=(0, WAVE_SECONDS, 0, HIGHEST_HZ / 1000))
    axes.set_xlabel("s")


def _windows(sound: Sound) -> np.ndarray:
    needed = round(WAVE_SECONDS * sound.rate_hz) + SPECTROGRAM_WINDOW
    padded = np.pad(sound.samples, (SPECTROGRAM_WINDOW // 2, max(0, needed - len(sound.samples))))[:needed]
    frames = np.lib.stride_tricks.sliding_window_view(padded, SPECTROGRAM_WINDOW)[::SPECTROGRAM_HOP]
    return frames * np.hanning(SPECTROGRAM_WINDOW)


def _svg(figure) -> str:
    """The drawing as an element of a page: no head of its own, no names that another drawing could have too."""
    text = StringIO()
    figure.savefig(text, format="svg", metadata={"Date": None, "Creator": None})
    drawn = text.getvalue()
    drawn = re.sub(r'<g id="[^"]*">', "<g>", drawn[drawn.index("<svg"):])
    drawn = re.sub(r"<(metadata|style)\b.*?</\1>", "", drawn, flags=re.DOTALL)
    drawn = re.sub(r"font-family: [^;\"]*;? ?", "", drawn)
    return drawn.replace(INK, "currentColor").rstrip()
