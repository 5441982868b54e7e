"""A lick as MusicXML 4.0 (partwise), as it is written: repeats and endings are signs, not unfolded.

One part, one voice, a TAB staff of five lines. Pitches are what sounds under tuning and capo, so
key and chord names are moved up by the capo too. A string that goes on while another begins is
tied; ringing past the written length is not written. Left-hand fingers are the writer's only: the standard has no
sign that would tell one chosen by the tool from them.
"""

import re
from collections.abc import Sequence
from xml.sax.saxutils import escape

from ..model.lick import Lick
from ..model.note import Note
from .musicxml_measure import Score, measure
from .musicxml_note import Joined
from .musicxml_rhythm import write_rhythm

DOCTYPE = ('<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN"'
           ' "http://www.musicxml.org/dtds/partwise.dtd">')
BANJO_PROGRAM = 106
"""Counted from 1, as the standard's ``midi-program`` is."""
BANJO_SOUND = "pluck.banjo"
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Characters XML 1.0 has no way to write."""
PART_LIST = (
    '<part-list><score-part id="P1"><part-name>Banjo</part-name><score-instrument id="P1-I1">'
    f"<instrument-name>Banjo</instrument-name><instrument-sound>{BANJO_SOUND}</instrument-sound></score-instrument>"
    f'<midi-instrument id="P1-I1"><midi-channel>1</midi-channel><midi-program>{BANJO_PROGRAM}</midi-program>'
    "</midi-instrument></score-part></part-list>")
LEFT_TO_THE_READER = "".join(
    f'<supports element="{element}" type="no"/>' for element in ("accidental", "beam", "stem"))


def musicxml_bytes(lick: Lick, notes: Sequence[Note], software: str = "Fifthpeg") -> bytes:
    """``notes`` are the lick's written notes with fingers filled in; UTF-8."""
    rhythm = write_rhythm(lick, notes)
    score = Score(lick, rhythm.per_quarter, Joined.of(lick, notes))
    measures = [measure(score, index, pieces) for index, pieces in enumerate(rhythm.bars)]
    lines = ['<?xml version="1.0" encoding="UTF-8" standalone="no"?>', DOCTYPE, '<score-partwise version="4.0">',
             _work(lick), _identification(lick, software), PART_LIST, '<part id="P1">', *measures,
             "</part>", "</score-partwise>"]
    return _NOT_XML.sub("", "\n".join(line for line in lines if line) + "\n").encode()


def _work(lick: Lick) -> str:
    return f"<work><work-title>{escape(lick.title)}</work-title></work>" if lick.title else ""


def _identification(lick: Lick, software: str) -> str:
    """No date of encoding: the same lick is always the same file."""
    rights = f"<rights>{escape(lick.rights)}</rights>" if lick.rights else ""
    facts = {"id": lick.id or "", "role": lick.role, "labels": ", ".join(lick.labels)}
    fields = "".join(f'<miscellaneous-field name="{name}">{escape(value)}</miscellaneous-field>'
                     for name, value in facts.items() if value)
    encoding = f"<encoding><software>{escape(software)}</software>{LEFT_TO_THE_READER}</encoding>"
    return (f"<identification>{rights}{encoding}"
            f"<miscellaneous>{fields}</miscellaneous></identification>")
