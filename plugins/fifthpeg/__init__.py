"""Fifthpeg: tab blocks in Markdown become lessons one can read and hear.

A map of the folders, in the order text flows through them:

* ``model``      the nouns: pitch, tuning, slot, pluck, strike, bar, lick, performance, problem
* ``reading``    text -> model: finds the blocks, reads them, words the messages
* ``analysis``   model -> findings: right-hand fingers, rolls, repeats, loops
* ``engraving``  model -> SVG: first geometry, then markup
* ``sound``      model -> samples: performance, note bank, mix, loudness
* ``exports``    model or samples -> bytes: WAV, MIDI, schedule
* ``pages``      results -> HTML fragments, generated pages, files, cache
* ``assets``     what the browser gets: player scripts and CSS

``pipeline`` joins the stages on one screen, ``companions`` makes tabs from other tabs; ``plugin`` and
``settings`` are the only modules that know MkDocs.
"""

__version__ = "0.1.0"
