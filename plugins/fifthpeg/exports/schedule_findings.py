"""What was noticed about the hands and the chords, as JSON values of the schedule."""

from ..model.findings import Join, Repair, RepeatedFinger, Roll, Seam
from ..model.harmony import Harmony
from ..model.left_hand import LeftHand
from .schedule_numbers import number

SPEED_DIGITS = 2
MILLIMETRE_DIGITS = 1


def half_roll_json(roll: Roll) -> dict:
    return {"bar": roll.bar, "half": roll.half, "name": roll.name}


def mark_json(repeat: RepeatedFinger) -> dict:
    return {"fingers": list(repeat.fingers), "bar": repeat.bar, "slot": repeat.slot,
            "per_second": _speed(repeat.per_second), "verdict": repeat.verdict,
            "clashes_above": _speed(repeat.clashes_above)}


def seam_json(seam: Seam) -> dict:
    """Its join as it is played; ``unrepaired`` as it was before ``repair`` was made."""
    return {"link": seam.link, "from": seam.from_id, "to": seam.to_id, "at": str(seam.at)} | join_json(seam.join) | {
        "repair": _repair(seam.repair) if seam.repair else None,
        "unrepaired": join_json(seam.unrepaired) if seam.unrepaired else None}


def join_json(join: Join) -> dict:
    return {"verdict": join.verdict, "fingers": list(join.fingers),
            "per_second": _speed(join.per_second), "clashes_above": _speed(join.clashes_above),
            "repairs": [_repair(repair) for repair in join.repairs]}


def _repair(repair: Repair) -> dict:
    return {"name": repair.name, "says": repair.says}


def left_hand_json(left: LeftHand) -> dict:
    """The finger of each note stands with its pluck."""
    return {
        "positions": [{"bar": position.bar, "slot": position.slot, "fret": position.fret, "name": position.name}
                      for position in left.positions],
        "wide_spans": [{"bar": span.bar, "slot": span.slot, "frets": list(span.frets),
                        "millimetres": round(span.millimetres, MILLIMETRE_DIGITS)} for span in left.wide_spans],
    }


def harmony_json(harmony: Harmony) -> dict:
    """``outside`` names the chord a note is outside of, ``degree`` the blue note of the key that it is."""
    return {
        "over": [{"chord": stretch.chord, "bars": number(stretch.bars), "start": number(stretch.start)}
                 for stretch in harmony.over],
        "after": harmony.after,
        "notes": [{"bar": colour.bar, "slot": colour.slot, "mark": colour.mark, "name": colour.name,
                   "outside": colour.outside_chord, "degree": colour.degree} for colour in harmony.colours],
        "doubts": [{"bar": doubt.bar, "chord": doubt.chord, "better": doubt.better, "says": doubt.says}
                   for doubt in harmony.doubts],
    }


def _speed(value: float | None) -> int | float | None:
    """Two digits: a finger's speed is no finer than that."""
    if value is None:
        return None
    rounded = round(value, SPEED_DIGITS)
    return int(rounded) if rounded == int(rounded) else rounded
