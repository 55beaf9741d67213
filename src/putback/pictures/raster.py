"""Raster pictures, by their frame only: what kind, how many pixels, whole or cut off. Nothing is unpacked.

Published: PNG (W3C, third edition), JPEG (ITU-T T.81), GIF89a, WebP container (RFC 9649).
"""

from __future__ import annotations

import re
import struct
import zlib

from putback.pictures.judged import BadPictureError, Picture

KINDS = ("PNG", "JPEG", "GIF", "WebP")
"""What this module reads."""

MOST_PIXELS = 50_000_000
"""Pixels of one picture: more than a sheet of A3 at 400 dots to the inch. Unpacked, they take 200 MB."""

MOST_UNPACKED = 4 << 20
"""Bytes to which a packed remark or colour profile of a PNG may grow."""

_DAMAGED = "open it in a drawing or photo program and save it again"
_CUT_OFF = "it is cut off"


def kind_of(data: bytes) -> str | None:
    """Return what a file is by its first bytes; None when it is no picture that is known here."""
    if data.startswith(b"\x89PNG\r\n\x1a\n"):
        return "PNG"
    if data.startswith(b"\xff\xd8\xff"):
        return "JPEG"
    if data.startswith((b"GIF87a", b"GIF89a")):
        return "GIF"
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "WebP"
    if re.search(rb"<(?:[A-Za-z_][\w.-]*:)?svg[\s/>]", data) and data.lstrip(b"\xef\xbb\xbf \t\r\n")[:1] == b"<":
        return "SVG"
    return None


def read_raster(data: bytes, kind: str) -> Picture:
    """Return what a raster picture costs. Raises `BadPictureError`."""
    try:
        pixels = {"PNG": _png, "JPEG": _jpeg, "GIF": _gif, "WebP": _webp}[kind](data)
    except (struct.error, IndexError):
        raise BadPictureError(_CUT_OFF, _DAMAGED) from None
    return Picture(kind, pixels)


def _size(width: int, height: int) -> int:
    if not width or not height:
        raise BadPictureError(f"it is {width} by {height} pixels, so it shows nothing", _DAMAGED)
    if width * height > MOST_PIXELS:
        raise BadPictureError(
            f"it is {width:,} by {height:,} pixels, {width * height:,} in all; the limit is {MOST_PIXELS:,}",
            "make it smaller",
        )
    return width * height


def _png(data: bytes) -> int:
    at, pixels, frames, has_data = 8, 0, 0, False
    while True:
        length, kind = struct.unpack_from(">I4s", data, at)
        end = at + 8 + length
        if kind == b"IHDR":
            # Before the length is believed: a header says how large the picture wants to be.
            pixels = _size(*struct.unpack_from(">II", data, at + 8))
        elif not pixels:
            raise BadPictureError("it does not begin with a header", _DAMAGED)
        (stated,) = struct.unpack_from(">I", data, end)
        if zlib.crc32(data[at + 4 : end]) != stated:
            raise BadPictureError("it is damaged: a checksum in it is wrong", _DAMAGED)
        if kind in (b"iCCP", b"zTXt", b"iTXt"):
            _unpacks(data[at + 8 : end])
        has_data |= kind == b"IDAT"
        frames += kind == b"fcTL"
        if kind == b"IEND":
            break
        at = end + 4
    if not has_data:
        raise BadPictureError("there is no picture in it", _DAMAGED)
    return _moving(pixels, frames)


def _moving(pixels: int, frames: int) -> int:
    """Return the pixels of all frames: each is unpacked to a whole picture, also one that changes a corner of it."""
    shown = frames * pixels
    if shown > MOST_PIXELS:
        raise BadPictureError(f"its frames have {shown:,} pixels; the limit is {MOST_PIXELS:,}", "save it as one frame")
    return max(pixels, shown)


def _unpacks(chunk: bytes) -> None:
    """Refuse a remark of a PNG that grows without measure. Its packed bytes begin somewhere after its name."""
    start = chunk.find(b"\0")
    for at in range(start + 1, min(start + 260, len(chunk) - 1)):
        if chunk[at] & 0x0F == 8 and int.from_bytes(chunk[at : at + 2], "big") % 31 == 0:
            unpacking = zlib.decompressobj()
            try:
                grown = len(unpacking.decompress(chunk[at:], MOST_UNPACKED + 1))
            except zlib.error:
                continue
            if grown > MOST_UNPACKED:
                raise BadPictureError("a comment in it unpacks to more than 4 MB", _DAMAGED)


_FRAMES = {0xC0, 0xC1, 0xC2}
"""Baseline, extended and progressive pictures."""
_OTHER_FRAMES = {0xC3, *range(0xC5, 0xC8), *range(0xC9, 0xCC), *range(0xCD, 0xD0)}
"""Lossless, layered and arithmetic ones, which browsers do not show."""


def _jpeg(data: bytes) -> int:
    at, pixels = 2, 0
    while True:
        if data[at] != 0xFF:
            raise BadPictureError("it is damaged", _DAMAGED)
        while data[at] == 0xFF:
            at += 1
        marker = data[at]
        at += 1
        if marker == 0xD9 or (marker == 0xDA and not pixels):
            raise BadPictureError("there is no picture in it", _DAMAGED)
        if marker == 0xDA:
            if data.find(b"\xff\xd9", at) < 0:
                raise BadPictureError(_CUT_OFF, _DAMAGED)
            return pixels
        if marker in _OTHER_FRAMES:
            raise BadPictureError("it is a kind of JPEG that browsers do not show", "save it as a plain JPEG")
        (length,) = struct.unpack_from(">H", data, at)
        if marker in _FRAMES:
            height, width = struct.unpack_from(">HH", data, at + 3)
            pixels = _size(width, height)
        if length < 2:
            raise BadPictureError("it is damaged", _DAMAGED)
        at += length


def _gif(data: bytes) -> int:
    wide, high, flags = struct.unpack_from("<HHB", data, 6)
    pixels, frames = _size(wide, high), 0
    at = 13 + _colours(flags)
    # Old ones end without the sign for it.
    while at < len(data) and data[at] != 0x3B:
        if data[at] == 0x2C:
            left, top, width, height, flags = struct.unpack_from("<HHHHB", data, at + 1)
            _size(width, height)
            if left + width > wide or top + height > high:
                raise BadPictureError("a frame in it reaches beyond the picture", _DAMAGED)
            frames += 1
            at += 11 + _colours(flags)
        elif data[at] == 0x21:
            at += 2
        else:
            raise BadPictureError("it is damaged", _DAMAGED)
        while data[at]:
            at += data[at] + 1
        at += 1
    if not frames:
        raise BadPictureError("there is no picture in it", _DAMAGED)
    return _moving(pixels, frames)


def _colours(flags: int) -> int:
    return 3 << (flags & 7) + 1 if flags & 0x80 else 0


def _webp(data: bytes) -> int:
    (length,) = struct.unpack_from("<I", data, 4)
    if length + 8 > len(data):
        raise BadPictureError(_CUT_OFF, _DAMAGED)
    at, pixels, shown, frames = 12, 0, 0, 0
    while at + 8 <= len(data):
        name, length = struct.unpack_from("<4sI", data, at)
        at += 8
        if at + length > len(data):
            raise BadPictureError(_CUT_OFF, _DAMAGED)
        if name == b"VP8X":
            pixels = _size(_three(data, at + 4) + 1, _three(data, at + 7) + 1)
        elif name == b"ANMF":
            shown, frames = max(shown, _size(_three(data, at + 6) + 1, _three(data, at + 9) + 1)), frames + 1
        elif name == b"VP8 ":
            width, height = struct.unpack_from("<HH", data, at + 6)
            shown = max(shown, _size(width & 0x3FFF, height & 0x3FFF))
        elif name == b"VP8L":
            (bits,) = struct.unpack_from("<I", data, at + 1)
            shown = max(shown, _size((bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1))
        at += length + length % 2
    if not shown:
        raise BadPictureError("there is no picture in it", _DAMAGED)
    return _moving(max(pixels, shown), frames)


def _three(data: bytes, at: int) -> int:
    return int.from_bytes(data[at : at + 3], "little") if len(data) >= at + 3 else data[at + 3]
