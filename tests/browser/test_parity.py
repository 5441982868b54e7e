"""One truth: the player's own mix of a published lick against its published recording, sample for sample.

Every recording at full tempo is compared, so every touch of the course is. Where the recording's limiter was at work
(`limited_db` in the schedule) the player, which has none, plays the whole lower by as much; there the recording must be
the player's mix that much louder, turned down only, and for the most part not at all. What else may differ: the
recording's steps of 16 bits (half a step, 1.5e-5), the bank's own steps of 16 bits on the way through FLAC (half a step a
source, times the gain; a dozen may overlap), and the order in which an AudioContext adds its sources in single precision.
"""

import base64
import json
import wave
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import html5lib
import pytest
from playwright.sync_api import Browser, Page

LARGEST_DIFFERENCE = 1e-4
"""Three times the largest measured; one frame of delay shows as 0.1 and more."""
LOUD_ENOUGH = 0.1
MOSTLY_IDLE = 0.98
"""Share of the frames on which a limiter that is gentle does nothing."""
EVERY_TOUCH = {"pick", "slide", "hammer-on", "pull-off", "choke", "chime", "damped", "vibrato", "release", "accent",
               "pinch", "brush", "bounce", "repeat", "chain", "backing", "capo"}
PLAY = """async ([data, folder, recording, gain, tolerance]) => {
    const { tab: tabs, bank, run: runs, time } = fifthpeg;
    const tab = tabs(data, {read: () => ({}), write: () => true});
    const parts = [data, ...(data.stems || [])];
    const names = [...new Set(parts.flatMap(part => part.notes.map(note => note.sound)).filter(Boolean))];
    const { buffers, says } = await bank.load(folder, names, data.rate);
    if (says) throw new Error(says);
    const bytes = bank.bytesOf(recording);
    const expected = new Int16Array(bytes.buffer);
    const lead = Math.ceil(0.03 * data.rate);
    const context = new OfflineAudioContext(1, lead + expected.length, data.rate);
    const run = runs(context, {data, scoreAt: tab.scoreAt, buffers, from: [0, 1], counted: false, onEnd() {},
                               wishes: () => tabs.wishes(tab), levels: () => tabs.levels(tab)});
    for (let at = 0.1; at < context.length / data.rate; at += 0.1) {
        context.suspend(at).then(() => { run.pump(); context.resume(); });
    }
    const found = (await context.startRendering()).getChannelData(0).subarray(lead);
    const read = {peak: 0, difference: 0, shifted: 0, above: 0, idle: 0};
    const worst = (name, value) => (read[name] = Math.max(read[name], value));
    for (let i = 0; i < expected.length; i += 1) {
        const [heard, wanted, next] = [found[i] * gain, expected[i] / 32768, (expected[i + 1] || 0) / 32768];
        worst('peak', Math.abs(wanted));
        worst('difference', Math.abs(heard - wanted));
        worst('shifted', Math.abs(heard - next));
        worst('above', Math.sign(heard) * wanted > 0 ? Math.abs(wanted) - Math.abs(heard) : Math.abs(wanted));
        read.idle += (Math.abs(heard - wanted) <= tolerance) / expected.length;
    }
    return read;
}"""


@pytest.fixture(scope="module")
def player(chromium: Browser, site: Path) -> Iterator[Page]:
    """A lick's own page, opened by a double click; its scripts play any lick of the site."""
    page = chromium.new_page()
    page.goto((site / "licks/sluice-tag/index.html").as_uri())
    yield page
    page.close()


def published(site: Path) -> list[dict]:
    return [json.loads(path.read_text()) for path in sorted(site.glob("media/licks/*/*.json"))]


def touches(lick: dict) -> set[str]:
    found = {pluck["touch"] for pluck in lick["plucks"]}
    found |= {name for name in ("accent", "vibrato", "release") for pluck in lick["plucks"] if pluck[name]}
    together = Counter(pluck["at"] for pluck in lick["plucks"] if pluck["picked"])
    found |= {name for count, name in ((2, "pinch"), (3, "brush")) if count in together.values()}
    found |= {"repeat"} if any(pluck["pass"] > 1 for pluck in lick["plucks"]) else set()
    found |= {"chain"} if any(pluck["link"] > 0 for pluck in lick["plucks"]) else set()
    found |= {name for name in ("backing", "capo") if lick[name]}
    return found | ({"bounce"} if lick["bounce"] != 50 else set())


def player_data(site: Path, lick_id: str) -> tuple[dict, str]:
    """What the lick's page tells the player, and its bank's folder as seen from there."""
    page = (site / f"licks/{lick_id}/index.html").read_text(encoding="utf-8")
    root = html5lib.parse(page, namespaceHTMLElements=False)
    figure = next(one for one in root.iter("figure") if one.get("id") == f"fp-{lick_id}")
    data = next(one.text for one in figure.iter("script") if one.get("class") == "fp-data")
    return json.loads(data), figure.get("data-fp-bank")


def recording(site: Path, lick_id: str) -> str:
    with wave.open(str(site / f"media/licks/{lick_id}/{lick_id}-full.wav")) as file:
        assert (file.getsampwidth(), file.getnchannels()) == (2, 1)
        return base64.b64encode(file.readframes(file.getnframes())).decode()


def heard(player: Page, site: Path, lick: dict) -> dict:
    """Figures of both: the player's mix louder by what the limiter took off at most."""
    (full,) = (tempo for tempo in lick["tempos"] if tempo["name"] == "full")
    gain = 10 ** (full["limited_db"] / 20)
    wish = [*player_data(site, lick["id"]), recording(site, lick["id"]), gain, gain * LARGEST_DIFFERENCE]
    return player.evaluate(PLAY, wish) | {"gain": gain}


@pytest.fixture(scope="module")
def figures(player, site) -> dict[str, dict]:
    licks = published(site)
    assert len(licks) >= 40
    assert set().union(*map(touches, licks)) >= EVERY_TOUCH
    return {lick["id"]: heard(player, site, lick) for lick in licks}


def test_the_player_plays_every_published_lick_as_its_recording_does(figures, site):
    open_licks = {name: one for name, one in figures.items() if one["gain"] == 1}
    met = set().union(*(touches(lick) for lick in published(site) if lick["id"] in open_licks))
    assert met >= EVERY_TOUCH - {"damped"}
    assert {name: one for name, one in open_licks.items() if one["difference"] > LARGEST_DIFFERENCE} == {}
    assert {name: one for name, one in figures.items() if one["peak"] < LOUD_ENOUGH} == {}
    delayed = min(one["shifted"] for one in figures.values())
    assert delayed > 100 * LARGEST_DIFFERENCE, "the measure sees one frame's delay"


def test_where_the_recording_was_limited_the_player_plays_the_same_before_the_limiter(figures):
    limited = {name: one for name, one in figures.items() if one["gain"] > 1}
    assert limited, "some licks of the course have such peaks"
    assert {name: one for name, one in limited.items() if one["above"] > one["gain"] * LARGEST_DIFFERENCE} == {}
    assert {name: one for name, one in limited.items() if one["idle"] < MOSTLY_IDLE} == {}
