"""Fingers of both hands and the strings they reach."""

THUMB, INDEX, MIDDLE = "T", "I", "M"
RIGHT_FINGERS = (THUMB, INDEX, MIDDLE)
FINGER_WORDS = {THUMB: "thumb", INDEX: "index", MIDDLE: "middle"}
"""Of the right hand."""

LEFT_FINGERS = ("1", "2", "3", "4", "T")
LEFT_FINGER_WORDS = {"1": "index", "2": "middle", "3": "ring", "4": "little", "T": "thumb"}

REACH = {THUMB: (5, 4, 3, 2), INDEX: (4, 3, 2, 1), MIDDLE: (3, 2, 1)}
"""String numbers each right-hand finger may pick; common practice, no source."""

CLASH_PER_SECOND = 6.5
TIGHT_PER_SECOND = 5.0
"""Repeats of one finger a second: an estimate from finger-tapping studies, both are settings."""
WIDEST_SPAN_MM = 110.0
"""A setting, not a standard: a little more than four frets at the nut, less than five."""


def the_finger(finger: str) -> str:
    """A right-hand finger in a sentence."""
    return "the thumb" if finger == THUMB else f"the {FINGER_WORDS[finger]} finger"
