"""The cursor against the sound, with a clock of our own: what is lit when a note comes out of the loudspeaker.

A sound card is played by hand: it renders in blocks of 128 frames, is heard 60 ms later, stamps its output every 23 ms,
and the page draws some 59 times a second, a little unevenly.
"""

import pytest

from tests.browser.stage import tab_of

EVEN = "tempo: 200\n---\nM1 I2 T3 M1 T4 I3 M1 T4 | I3 T4 M1 I3 T4 I2 T5 M1"
GOAL_SECONDS = 0.030
BY_HAND = """([data, moves, seconds]) => {
    const { tab: tabs, run: runs, output, cursor, time } = fifthpeg;
    const [late, stampEvery, rate] = [0.060, 0.023, data.rate];
    const offline = new OfflineAudioContext(1, 128, rate);
    let now = 0;
    performance.now = () => 5000 + 1000 * now;
    const sounded = [];
    const context = {
        sampleRate: rate, destination: offline.destination, outputLatency: late,
        get currentTime() { return Math.floor(now * rate / 128) * 128 / rate; },
        getOutputTimestamp() {
            const at = Math.floor(now / stampEvery) * stampEvery;
            return { contextTime: Math.max(at - late, 0), performanceTime: at < late ? 0 : 5000 + 1000 * at };
        },
        createGain: () => offline.createGain(),
        createBuffer: (...sizes) => offline.createBuffer(...sizes),
        createBufferSource() {
            const entry = { when: 0, taken: false };
            sounded.push(entry);
            return { connect() {}, start(when) { entry.when = when; }, stop() {}, disconnect() { entry.taken = true; } };
        },
    };
    const tab = tabs(data, { read: () => ({}), write: () => true });
    Object.assign(tab.state, { looping: true });
    tab.base = { beats: 200, pass: 0 };
    const buffers = new Map(data.notes.map(note => [note.sound, offline.createBuffer(1, 64, rate)]));
    const run = runs(context, { data, scoreAt: tab.scoreAt, buffers, from: [0, 1], counted: false, onEnd() {},
                                wishes: () => tabs.wishes(tab), levels: () => tabs.levels(tab) });
    const lit = [];
    let last = null;
    for (let drawing = 0; now < seconds; drawing += 1) {
        now = drawing / 59.3 + 0.004 * (drawing % 3);
        while (moves.length && moves[0].at <= now) {
            const move = moves.shift();
            Object.assign(tab.state, move.state);
            if (move.beats) tab.base = { beats: move.beats, pass: 0 };
            run.change(Boolean(move.jump));
        }
        run.pump();
        const place = run.placeAt(output.heardSeconds(context));
        if (!place) continue;
        const [note] = cursor.notesAt(tab.steps, place.quarters, time.decimal(place.stretch.since));
        const name = note && `${note.mark} ${place.stretch.pass}`;
        if (name && name !== last) lit.push([note.mark, now]);
        last = name || last;
    }
    run.stop();
    const heard = sounded.filter(one => !one.taken).map(one => one.when + late).sort((a, b) => a - b);
    return { lit, heard };
}"""
MOVES = [{"at": 3.1, "beats": 137}, {"at": 5.3, "beats": 300}, {"at": 6.2, "beats": 60},
         {"at": 8.0, "beats": 240}, {"at": 8.5, "state": {"first": 4, "last": 10}, "jump": True}]


def apart(lit: list, heard: list[float]) -> list[float]:
    """Seconds by which each note is lit after it is heard; the last of all may not have been drawn any more."""
    assert len(heard) - len(lit) in range(0, 8), "what is handed over ahead of the end has not been heard"
    return [drawn - sound for (_, drawn), sound in zip(lit, heard, strict=False)]


@pytest.mark.parametrize("moves", [[], MOVES[:4], MOVES], ids=["steady", "changes of tempo", "and of the loop"])
def test_each_note_is_lit_within_30_ms_of_its_sound(scripts, moves):
    found = scripts.evaluate(BY_HAND, [tab_of(EVEN).data, moves, 14])
    differences = apart(found["lit"], found["heard"])
    assert len(differences) > 60
    assert max(map(abs, differences)) <= GOAL_SECONDS
