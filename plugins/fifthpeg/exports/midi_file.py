"""Writing a Standard MIDI File: bytes only, nothing about banjos (MIDI 1.0, SMF format 1)."""

from collections.abc import Iterable, Sequence

PPQ = 480
"""Ticks a quarter note."""
MICROSECONDS_PER_MINUTE = 60_000_000
CLOCKS_PER_QUARTER = 24
THIRTY_SECONDS_PER_QUARTER = 8
BEND_CENTRE = 8192
BEND_TOP = 16383

Event = tuple[int, bytes]
"""(tick from the start, message)"""


def file_bytes(tracks: Sequence[Iterable[Event]]) -> bytes:
    """Format 1; the first track is the one that carries tempo and meter."""
    header = _chunk(b"MThd", _u16(1) + _u16(len(tracks)) + _u16(PPQ))
    return header + b"".join(_chunk(b"MTrk", _track(events)) for events in tracks)


def track_name(text: str) -> bytes:
    return _meta(0x03, text.encode("utf-8"))


def marker(text: str) -> bytes:
    return _meta(0x06, text.encode("utf-8"))


def tempo(quarters_per_minute: object) -> bytes:
    return _meta(0x51, round(MICROSECONDS_PER_MINUTE / quarters_per_minute).to_bytes(3, "big"))


def time_signature(count: int, unit: int, beat_quarters: object) -> bytes:
    """``unit`` a power of two; the click falls on ``beat_quarters``."""
    clocks = round(CLOCKS_PER_QUARTER * beat_quarters)
    return _meta(0x58, bytes((count, unit.bit_length() - 1, clocks, THIRTY_SECONDS_PER_QUARTER)))


def program(channel: int, number: int) -> bytes:
    """``number`` counts from 0, as the byte does."""
    return bytes((0xC0 | channel, number))


def control(channel: int, controller: int, value: int) -> bytes:
    return bytes((0xB0 | channel, controller, value))


def note_on(channel: int, midi: int, velocity: int) -> bytes:
    return bytes((0x90 | channel, midi, velocity))


def note_off(channel: int, midi: int) -> bytes:
    return bytes((0x80 | channel, midi, 0))


def pitch_bend(channel: int, value: int) -> bytes:
    """``value`` 0 to 16383, ``BEND_CENTRE`` for none; the low seven bits go first."""
    return bytes((0xE0 | channel, value & 0x7F, value >> 7))


def ticks(quarters: object) -> int:
    return round(quarters * PPQ)


def _track(events: Iterable[Event]) -> bytes:
    """Events of one tick keep the order they are given in."""
    body, now = bytearray(), 0
    for tick, message in sorted(events, key=lambda event: event[0]):
        body += _varying(tick - now) + message
        now = tick
    return bytes(body) + _varying(0) + _meta(0x2F, b"")


def _meta(kind: int, data: bytes) -> bytes:
    return bytes((0xFF, kind)) + _varying(len(data)) + data


def _chunk(name: bytes, data: bytes) -> bytes:
    return name + len(data).to_bytes(4, "big") + data


def _u16(value: int) -> bytes:
    return value.to_bytes(2, "big")


def _varying(value: int) -> bytes:
    """Variable-length quantity: seven bits a byte, high bit set on all but the last."""
    septets = [value & 0x7F]
    while value := value >> 7:
        septets.append(0x80 | value & 0x7F)
    return bytes(reversed(septets))
