"""ICC profiles for tests, written by hand after ICC.1:2001-04: one of more vivid colours than sRGB, and one of printing inks."""

import struct
from collections.abc import Callable, Sequence
from itertools import product

WHITE = (0.9642, 1.0, 0.8249)  # D50
# Adobe RGB (1998), adapted to D50: red, green and blue as XYZ, and its gamma.
VIVID = ((0.60974, 0.31111, 0.01947), (0.20528, 0.62567, 0.06087), (0.14919, 0.06322, 0.74457))
GAMMA = 2.19921875


def vivid_rgb() -> bytes:
    curve = b"curv" + bytes(4) + struct.pack(">IH", 1, round(GAMMA * 256)) + bytes(2)
    tags = {name: _xyz(colour) for name, colour in zip((b"rXYZ", b"gXYZ", b"bXYZ"), VIVID, strict=True)}
    return _profile(b"mntr", b"RGB ", b"XYZ ", tags | dict.fromkeys((b"rTRC", b"gTRC", b"bTRC"), curve))


def printing_inks(lab_of: Callable[[Sequence[int]], tuple[float, float, float]]) -> bytes:
    """`lab_of`: full inks, four times 0 or 1 -> L*, a*, b* of what they print; between these it is linear."""
    ramp = bytes(range(256))
    grid = b"".join(bytes((round(lightness * 2.55), round(a) + 128, round(b) + 128))
                    for lightness, a, b in map(lab_of, product((0, 1), repeat=4)))
    unity = struct.pack(">9i", *(65536 * int(row == column) for row in range(3) for column in range(3)))
    table = b"mft1" + bytes(4) + bytes((4, 3, 2, 0)) + unity + ramp * 4 + grid + ramp * 3
    return _profile(b"prtr", b"CMYK", b"Lab ", dict.fromkeys((b"A2B0", b"A2B1", b"A2B2"), table))


def _xyz(colour: Sequence[float]) -> bytes:
    return b"XYZ " + bytes(4) + struct.pack(">3i", *(round(value * 65536) for value in colour))


def _profile(kind: bytes, colours: bytes, seen: bytes, own: dict[bytes, bytes]) -> bytes:
    named = b"of a test\x00"
    words = {b"desc": b"desc" + bytes(4) + struct.pack(">I", len(named)) + named + bytes(78), b"cprt": b"text" + bytes(4) + named}
    tags = words | {b"wtpt": _xyz(WHITE)} | own
    at, table, body = 128 + 4 + 12 * len(tags), struct.pack(">I", len(tags)), b""
    for name, content in tags.items():
        content += bytes(-len(content) % 4)
        table += name + struct.pack(">II", at + len(body), len(content))
        body += content
    head = struct.pack(">I4sI4s4s4s", at + len(body), bytes(4), 0x02400000, kind, colours, seen)
    head += struct.pack(">6H4s", 2026, 1, 1, 0, 0, 0, b"acsp") + bytes(28) + struct.pack(">3i", *(round(v * 65536) for v in WHITE))
    return head.ljust(128, b"\x00") + table + body
