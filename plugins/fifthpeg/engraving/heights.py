"""The rows of a lick from top to bottom: the same in every bar, so that bars in a row line up."""

from collections.abc import Sequence
from dataclasses import dataclass

from .lanes import Hang
from .plan import LickPlan
from .proportions import (
    BOTTOM_MARGIN, BRACKET_ROW, CAP_HEIGHT, CHANGE_ROW, CHORD_ROW, CROWN, CUP_DROP, FINGER_PITCH, FINGER_SIZE,
    FINGER_STANDOFF, LANE, LINK_ROW, NO_CROWN, NUMBER_ROW, STEM_LENGTH, STEM_STANDOFF, STRING_GAP, STRINGS, TEXT_ROW,
    TOP_MARGIN, TUPLET_ROW,
)

ROW_STANDOFF = 5.0
"""Between a row's baseline and its lower edge."""


@dataclass(frozen=True)
class Rows:
    """All y. ``exit``, ``ending`` are tops of brackets; ``link``, ``texts`` and ``chord`` baselines; ``lanes``
    the feet of arcs, lowest first; ``tuplets`` the bracket lines; ``fingers`` baselines; ``changes`` the
    middle of the lines under what a variant changed."""

    link: float
    exit: float
    ending: float
    texts: tuple[float, ...]
    chord: float
    lanes: tuple[float, ...]
    crown: float
    first_string: float
    stem_top: float
    stem_foot: float
    tuplets: tuple[float, ...]
    fingers: tuple[float, ...]
    changes: float
    height: float

    def string(self, string_number: int) -> float:
        return self.first_string + STRING_GAP * (string_number - 1)


def stack_rows(plan: LickPlan, hangs: Sequence[Hang], text_levels: int) -> Rows:
    """``text_levels`` is how many lines of words the fullest bar holds."""
    exit_top = TOP_MARGIN + LINK_ROW * any(bar.links for bar in plan.bars)
    ending_top = exit_top + BRACKET_ROW * any(bar.exit for bar in plan.bars)
    texts_top = ending_top + BRACKET_ROW * any(bar.ending for bar in plan.bars)
    texts = tuple(texts_top + TEXT_ROW * (text_levels - level) - ROW_STANDOFF + 1 for level in range(text_levels))
    has_chords = any(bar.bar.chords for bar in plan.bars)
    chord_foot = texts_top + TEXT_ROW * text_levels + (CHORD_ROW if has_chords else NUMBER_ROW)
    lane_count = 1 + max((item.lane for item in hangs), default=-1)
    crown_top = chord_foot + LANE * lane_count
    first_string = crown_top + (CROWN if _needs_crown(plan) else NO_CROWN)
    stem_top = first_string + STRING_GAP * (STRINGS - 1) + STEM_STANDOFF
    stem_foot = stem_top + STEM_LENGTH
    tuplet_rows = max((len(piece.tuplets) for bar in plan.bars for piece in bar.pieces), default=0)
    tuplets = tuple(stem_foot + TUPLET_ROW * (row + 0.5) + 1 for row in range(tuplet_rows))
    letters_top = stem_foot + TUPLET_ROW * tuplet_rows + FINGER_STANDOFF
    letter_rows = max((len(column.letters) for bar in plan.bars for column in bar.columns), default=0)
    fingers = tuple(letters_top + CAP_HEIGHT * FINGER_SIZE + FINGER_PITCH * row for row in range(letter_rows))
    foot = fingers[-1] + CUP_DROP if fingers else letters_top
    change_row = CHANGE_ROW * any(bar.changes for bar in plan.bars)
    return Rows(
        exit_top - ROW_STANDOFF + 1, exit_top, ending_top, texts, chord_foot - ROW_STANDOFF,
        tuple(crown_top - LANE * lane for lane in range(lane_count)), crown_top, first_string, stem_top, stem_foot,
        tuplets, fingers, foot + change_row / 2 + 1, foot + change_row + BOTTOM_MARGIN)


def _needs_crown(plan: LickPlan) -> bool:
    return any(column.pinned or any(note.accent or note.bend or note.release
                                    or (note.string == 1 and column.left_finger(note)) for note in column.notes)
               for bar in plan.bars for column in bar.columns)
