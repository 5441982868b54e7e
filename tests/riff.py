"""A reader of RIFF WAVE chunks, written from the specification and knowing nothing of our writer.

*Multimedia Programming Interface and Data Specifications 1.0* (IBM and Microsoft, 1991), from memory: a chunk is four
letters, a little-endian size, so many bytes and one more where the size is odd; ``cue `` is a count and entries of 24
bytes (name, position, ``data``, chunk start, block start, sample offset); ``labl`` is a cue's name and a text that ends
with a nought, in a ``LIST`` of type ``adtl``.
"""

import struct
from collections.abc import Iterator


def chunks(body: bytes) -> Iterator[tuple[bytes, bytes]]:
    """(letters, content) of each chunk in a row of them."""
    at = 0
    while at < len(body):
        letters, size = struct.unpack_from("<4sI", body, at)
        content = body[at + 8:at + 8 + size]
        assert len(content) == size, f"{letters!r} is cut short"
        yield letters, content
        at += 8 + size + size % 2


def wave_chunks(file: bytes) -> list[tuple[bytes, bytes]]:
    ((letters, content),) = chunks(file)
    assert (letters, content[:4]) == (b"RIFF", b"WAVE")
    return list(chunks(content[4:]))


def cues_of(file: bytes) -> list[tuple[int, str]]:
    """(frame, label) of each cue, in the order of its point."""
    found = wave_chunks(file)
    points = [content for letters, content in found if letters == b"cue "]
    lists = [content for letters, content in found if letters == b"LIST" and content[:4] == b"adtl"]
    if not points:
        return []
    labels = {}
    for letters, content in chunks(lists[0][4:]):
        assert letters == b"labl" and content.endswith(b"\0")
        labels[struct.unpack_from("<I", content)[0]] = content[4:-1].decode()
    (count,) = struct.unpack_from("<I", points[0])
    assert len(points[0]) == 4 + 24 * count
    cues = []
    for name, position, where, chunk_start, block_start, offset in struct.iter_unpack("<II4sIII", points[0][4:]):
        assert (where, chunk_start, block_start) == (b"data", 0, 0) and position == offset
        cues.append((offset, labels[name]))
    return cues
