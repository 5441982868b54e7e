"""Sizes of the drawing, in CSS pixels at natural scale. One place, so that a look is changed in one place."""

PHONE_BAR_WIDTH = 288
"""A bar is squeezed towards this width: a 320 px screen less the page's margins."""
SQUEEZES = (1.0, 0.94, 0.88, 0.82, 0.76)
"""Shares of the natural spacing tried in turn until a bar fits the phone."""

STRINGS = 5
STRING_GAP = 14
FRET_SIZE = 14
LEFT_HAND_SIZE = 9
FINGER_SIZE = 11
CHORD_SIZE = 13
TEXT_SIZE = 11
BAR_NUMBER_SIZE = 9
REPEAT_SIZE = 11
BRACKET_SIZE = 10
MARK_SIZE = 10
TUPLET_SIZE = 9.5
LINK_SIZE = 11
POSITION_SIZE = 9
METER_SIZE = 21

CAP_HEIGHT = 0.72
DESCENT = 0.23
"""Of the letter size; about right for every common sans-serif."""

EIGHTH_GAP = 26
"""From one eighth to the next; other values follow by SPACING_POWER, so that long notes do not waste the line."""
SPACING_POWER = 0.8
STEM_CLEARANCE = 4.5
HEAD_CLEARANCE = 3.5
LETTER_CLEARANCE = 2.5
SLIDE_LENGTH = 9
BAR_LEFT = 14
BAR_RIGHT = 6
END_SHARE = 0.62
"""The last column stands off the barline by this share of its natural gap."""
METER_ROOM = 18
OPEN_REPEAT_ROOM = 12
CLOSE_REPEAT_ROOM = 10
FINAL_ROOM = 4
NARROWEST_BAR = 48
TEXT_MEASURE = 120
"""A bar with words grows to hold so much of a line before the words are wrapped."""
LINK_MEASURE = 90
"""… and so much of the name of a link before it is cut."""

LINE_CUT = 1.6
"""A line stops this far from a number that stands on it."""
RING_RADIUS = 5.4
RING_ROOM = 12
CHEVRON_ROOM = 5
WAVE_ROOM = 13
ARROW_ROOM = 8
RELEASE_ROOM = 8
BRUSH_ROOM = 6
SIGN_WIDTH, SIGN_HEIGHT, SIGN_GAP = 5.4, 8, 2.4
"""Of a verdict's sign, and how far it stands off its letter."""
PIN_ROOM = 9
HALO_HALF_HEIGHT = 8
HALO_MARGIN = 3.5
HALO_LEAST_HALF_WIDTH = 8
SLIDE_RISE = 3.6

TOP_MARGIN = 3
LINK_ROW = 14
BRACKET_ROW = 15
TEXT_ROW = 13.5
CHORD_ROW = 18
NUMBER_ROW = 12
LANE = 19
CROWN = 14
"""Above the first string: finger rings, accents and the tips of choke arrows."""
NO_CROWN = 8
ARC_RISE = 5.5
TIE_DROP = 4.5

STEM_STANDOFF = 10
STEM_LENGTH = 21
HALF_STEM_LENGTH = 10
BEAM_THICKNESS = 3
BEAM_PITCH = 5
STUB_LENGTH = 5.5
FLAG_WIDTH = 6
FLAG_HEIGHT = 10
DOT_OFFSET = 4.5
DOT_DROP = 8
DOT_RADIUS = 1.5
TUPLET_ROW = 12
FINGER_STANDOFF = 5
FINGER_PITCH = 14
CHANGE_ROW = 9
CUP_HALF_WIDTH = 3.6
CUP_DROP = 2.4
BOTTOM_MARGIN = 6

SHEET_WIDTH = 760
SHEET_MARGIN = 16
SYSTEM_GAP = 14
TITLE_SIZE = 18
DETAIL_SIZE = 12
WIDEST_STRETCH = 1.3
"""A system shorter than the others by more than this keeps its natural width."""
