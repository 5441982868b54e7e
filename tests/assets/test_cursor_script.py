"""Which notes are lit, asked at times of our choosing: no clock is involved."""

NOTES = """[
  {mark: "p1", start: [0, 1], length: [1, 2]},
  {mark: "p2", start: [1, 2], length: [1, 4]},
  {mark: "p3", start: [3, 4], length: [1, 4]},
  {mark: "p4", start: [3, 2], length: [1, 2]},
  {mark: "p5", start: [3, 2], length: [1, 2]},
]"""
"""An eighth, a hammer-on inside the next, an eighth's rest, a pinch."""


def marks_at(scripts, quarters: list[float], since: float = 0) -> list[list[str]]:
    return scripts.evaluate(
        "([moments, since]) => { const row = fifthpeg.cursor.steps(" + NOTES + ");"
        " return moments.map(q => fifthpeg.cursor.notesAt(row, q, since).map(n => n.mark)) }", [quarters, since])


def test_each_note_is_lit_from_its_start_for_its_written_length(scripts):
    assert marks_at(scripts, [0, 0.49, 0.5, 0.74, 0.75, 0.99]) == [["p1"], ["p1"], ["p2"], ["p2"], ["p3"], ["p3"]]


def test_nothing_is_lit_before_the_start_in_a_rest_or_after_the_end(scripts):
    assert marks_at(scripts, [-0.01, 1.0, 1.49, 2.0, 99]) == [[], [], [], [], []]


def test_both_notes_of_a_pinch_are_lit(scripts):
    assert marks_at(scripts, [1.5, 1.99]) == [["p4", "p5"], ["p4", "p5"]]


def test_a_note_begun_before_the_loop_is_not_lit_in_it(scripts):
    assert marks_at(scripts, [0.5, 0.75], since=0.75) == [[], ["p3"]]


def test_the_loudspeakers_time_runs_on_from_its_last_stamp(scripts):
    heard = "(now) => fifthpeg.cursor.heardSeconds({contextTime: 2, performanceTime: 1000}, now, 9, 0)"
    assert scripts.evaluate(heard, 1100) == 2.1


def test_a_stale_stamp_does_not_throw_the_cursor_ahead(scripts):
    heard = "(now) => fifthpeg.cursor.heardSeconds({contextTime: 2, performanceTime: 1000}, now, 9, 0)"
    assert scripts.evaluate(heard, 60_000) == 2.25


def test_without_a_stamp_the_cursor_waits_for_the_latency(scripts):
    assert scripts.evaluate("fifthpeg.cursor.heardSeconds(null, 5, 2, 0.25)") == 1.75
    assert scripts.evaluate("fifthpeg.cursor.heardSeconds({contextTime: 0, performanceTime: 0}, 5, 2, 0.25)") == 1.75
