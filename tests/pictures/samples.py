"""Pictures made on the spot: good ones of each kind, and the frames of bad ones."""

from __future__ import annotations

import base64
import struct
import zlib

SVG = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
BOX = 'viewBox="0 0 100 100" width="100" height="100"'


def svg(body: str, box: str = BOX) -> str:
    return f"<svg {SVG} {box}>{body}</svg>"


def chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(width: int, height: int, *, rows: int | None = None, extra: bytes = b"") -> bytes:
    """A grey PNG; with `rows`, the header says more rows than there are."""
    there = height if rows is None else rows
    packed = zlib.compress((b"\0" + b"\x80" * width) * there if there else b"")  # no line of 2 GB for no rows
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + extra + chunk(b"IDAT", packed) + chunk(b"IEND", b"")


def jpeg(width: int, height: int, *, frame: int = 0xC0, end: bytes = b"\xff\xd9") -> bytes:
    """The frame of a JPEG; nobody could unpack what is in it."""
    start = b"\xff\xd8\xff\xe0\0\x10JFIF\0\1\1\0\0\1\0\1\0\0"
    size = struct.pack(">BBHBHHB", 0xFF, frame, 11, 8, height, width, 1) + b"\1\x11\0"
    return start + size + b"\xff\xda\0\x08\1\1\0\0\x3f\0" + b"\x12\x34" + end


def gif(
    width: int, height: int, *, frames: int = 1, frame: tuple[int, int] | None = None, at: tuple[int, int] = (0, 0)
) -> bytes:
    head = b"GIF89a" + struct.pack("<HHBBB", width, height, 0x80, 0, 0) + b"\0\0\0\xff\xff\xff"
    shown = b"," + struct.pack("<HHHHB", *at, *(frame or (width, height)), 0) + b"\2\2D\1\0"
    return head + b"!\xf9\4\1\0\0\0\0" + shown * frames + b";"


def webp(width: int, height: int, *, canvas: tuple[int, int] | None = None, frames: int = 0) -> bytes:
    bits = (width - 1) | (height - 1) << 14
    inner = b"VP8L" + struct.pack("<I", 6) + b"\x2f" + struct.pack("<I", bits) + b"\0"
    if canvas:
        sides = b"".join((side - 1).to_bytes(3, "little") for side in canvas)
        sixteen = b"\0" * 16
        inner = b"VP8X" + struct.pack("<I", 10) + b"\0\0\0\0" + sides + inner
        inner += (b"ANMF" + struct.pack("<I", 16) + sixteen) * frames
    return b"RIFF" + struct.pack("<I", len(inner) + 4) + b"WEBP" + inner


def embedded(data: bytes, kind: str = "png") -> str:
    address = f"data:image/{kind};base64,{base64.b64encode(data).decode()}"
    return svg(f'<image width="9" height="9" href="{address}"/>')


def laughs(wide: int, deep: int, how: str = '<use href="#{}"/>') -> str:
    """Groups that each show the one before several times."""
    groups = "".join(f'<g id="a{at}">{how.format(f"a{at - 1}") * wide}</g>' for at in range(1, deep))
    return svg(f'<defs><g id="a0"><path d="M0 0h1"/></g>{groups}</defs><use href="#a{deep - 1}"/>')
