"""Raster pictures as they are published: upright, no larger than paper needs, and nothing in them but the picture.

A photograph tells more than it shows: the place, the day, the camera and its number, a small copy of what was cut
away. So each is unpacked and packed anew, and only its dots go over. Read `raster` first: nothing is unpacked here
that has not been measured there.
"""

from __future__ import annotations

import math
import struct
import warnings
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import TYPE_CHECKING, Any, NamedTuple

from putback.pictures.judged import BadPictureError
from putback.pictures.raster import MOST_PIXELS

if TYPE_CHECKING:
    from PIL import Image

LONGEST_SIDE = 2100
"""Dots along the longer side, at most: 300 to the inch over 178 mm, as wide as the text of A4 or Letter.

300 dots to the inch is common practice, no source."""

QUALITY = 88
"""How well JPEG and WebP are packed, of 100: no mark of the packing is seen at arm's length (tried by eye)."""

DENSITIES = (36.0, 2400.0)
"""Dots to the inch that a file may claim, and that its size on paper comes from."""

_ADAM7 = ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2))
"""Where each pass of an interlaced PNG begins, and its steps, across and down (PNG, W3C, third edition)."""

_DAMAGED = "open it in a photo program and save it again"
_ORIENTATION, _ON_ITS_SIDE = 0x0112, (5, 6, 7, 8)
"""The entry of a photograph that says how it was held, and its values for a picture on its side (Exif 2.3)."""
_PROFILE_OF_SCREENS = b"sRGB"


class Crop(NamedTuple):
    """What is shown of a picture, in parts of its width and height as it is seen upright."""

    left: float = 0.0
    top: float = 0.0
    right: float = 1.0
    bottom: float = 1.0


ALL = Crop()
"""The whole picture."""


class Published(NamedTuple):
    """A picture that can be published."""

    kind: str
    """PNG, JPEG, GIF, WebP or SVG."""
    data: bytes
    """The file."""
    width: float
    """Dots, or pixels of CSS of an SVG."""
    height: float
    """Likewise."""


def clean_photograph(data: bytes, kind: str, crop: Crop = ALL) -> Published:
    """Return a raster picture of that kind as it is published; the same bytes give the same bytes.

    What moves keeps all of its frames. Raises `BadPictureError` when it cannot be unpacked.
    """
    try:
        if kind == "PNG" and not _has_all_rows(data):
            raise BadPictureError("it is cut off", _DAMAGED)
        with _quietly(), _opened(data, kind) as opened:
            # A photograph may carry others, as of its depth; only the first is the picture.
            if kind != "JPEG" and getattr(opened, "n_frames", 1) > 1:
                return _moving(opened, kind, crop)
            return _still(opened, "PNG" if kind == "GIF" else kind, crop, lossless=data[12:16] == b"VP8L")
    except BadPictureError:
        raise
    except Exception as error:  # what decoders raise for a damaged file has no common kind
        raise BadPictureError("it cannot be unpacked: it is damaged", _DAMAGED) from error


def upright_size(data: bytes, kind: str) -> tuple[int, int]:
    """Return width and height of a raster picture as it is looked at, in dots. Raises `BadPictureError`."""
    try:
        with _quietly(), _opened(data, kind) as opened:
            turned = opened.getexif().get(_ORIENTATION, 1) in _ON_ITS_SIDE
            return (opened.height, opened.width) if turned else (opened.width, opened.height)
    except BadPictureError:
        raise
    except Exception as error:  # likewise
        raise BadPictureError("it cannot be unpacked: it is damaged", _DAMAGED) from error


@contextmanager
def _quietly() -> Iterator[None]:
    """Keep to itself what a decoder thinks of the remarks in a file: they are not published."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield


def _opened(data: bytes, kind: str) -> Image.Image:
    from PIL import Image

    opened = Image.open(BytesIO(data), formats=[kind.upper()])
    if opened.width * opened.height > MOST_PIXELS:  # the other reader saw a smaller one
        raise BadPictureError(f"it says twice how large it is, once {opened.width:,} by {opened.height:,} pixels")
    return opened


def _has_all_rows(data: bytes) -> bool:
    """Tell whether a PNG has the dots that its header promises: a decoder shows the missing ones as black."""
    wide, high, depth, colours, _, _, interlaced = struct.unpack_from(">IIBBBBB", data, 16)
    bits = depth * {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}.get(colours, 1)
    passes = _ADAM7 if interlaced else ((0, 0, 1, 1),)
    sides = [((wide - x + dx - 1) // dx, (high - y + dy - 1) // dy) for x, y, dx, dy in passes]
    wanted: int = sum(rows * (1 + (columns * bits + 7) // 8) for columns, rows in sides if columns > 0 and rows > 0)
    unpacking, got, at = zlib.decompressobj(), 0, 8
    while at < len(data) and got < wanted:
        length, name = struct.unpack_from(">I4s", data, at)
        packed = data[at + 8 : at + 8 + length] if name == b"IDAT" else b""
        while packed and got < wanted:
            got += len(unpacking.decompress(packed, 1 << 20))
            packed = unpacking.unconsumed_tail
        at += 12 + length
    return got >= wanted


def _still(opened: Image.Image, kind: str, crop: Crop, *, lossless: bool) -> Published:
    from PIL import Image

    density = _density(opened)
    wide = opened.width
    longest = max(opened.width * (crop.right - crop.left), opened.height * (crop.bottom - crop.top))
    if kind == "JPEG" and longest > LONGEST_SIDE:
        # Unpacks a half, a quarter or an eighth of a large one, and never less than is asked for.
        least = LONGEST_SIDE / min(crop.right - crop.left, crop.bottom - crop.top)
        opened.draft("RGB", (math.ceil(least), math.ceil(least)))
    picture = _upright(opened, crop, with_alpha=kind != "JPEG")
    before = max(picture.size)
    if before > LONGEST_SIDE:
        picture = picture.resize(_within(picture.size), Image.Resampling.LANCZOS)
    scale = opened.width / wide * max(picture.size) / before
    options: dict[str, Any] = {
        "JPEG": {"quality": QUALITY, "optimize": True},
        "PNG": {"compress_level": 6},
        "WebP": {"quality": QUALITY, "lossless": lossless},
    }[kind]
    if density and kind != "WebP":
        options["dpi"] = (density * scale, density * scale)
    return Published(kind, _packed(picture, kind, options), *picture.size)


def _moving(opened: Image.Image, kind: str, crop: Crop) -> Published:
    from PIL import Image, ImageSequence

    frames, lengths = [], []
    for frame in ImageSequence.Iterator(opened):
        lengths.append(int(frame.info.get("duration", 100)))
        picture = _upright(frame, crop, with_alpha=True)
        frames.append(picture.resize(_within(picture.size), Image.Resampling.LANCZOS))
    options = {"save_all": True, "append_images": frames[1:], "duration": lengths, "loop": 0}
    return Published(kind, _packed(frames[0], kind, options), *frames[0].size)


def _within(size: tuple[int, int]) -> tuple[int, int]:
    scale = min(1.0, LONGEST_SIDE / max(size))
    return max(1, round(size[0] * scale)), max(1, round(size[1] * scale))


def _packed(picture: Image.Image, kind: str, options: dict[str, Any]) -> bytes:
    stream = BytesIO()
    picture.save(stream, kind.upper(), **options)
    return stream.getvalue()


def _upright(opened: Image.Image, crop: Crop, *, with_alpha: bool) -> Image.Image:
    """Return the dots of a picture as they are looked at, in the colours of screens, without anything else."""
    from PIL import ImageOps

    opened.load()
    picture = _in_plain_colours(ImageOps.exif_transpose(opened), with_alpha=with_alpha)
    wide, high = picture.size
    left, top = min(wide - 1, round(crop.left * wide)), min(high - 1, round(crop.top * high))
    right, bottom = max(left + 1, round(crop.right * wide)), max(top + 1, round(crop.bottom * high))
    if (left, top, right, bottom) != (0, 0, wide, high):
        picture = picture.crop((left, top, right, bottom))
    picture = picture.copy()
    picture.info = {}
    return picture


def _in_plain_colours(picture: Image.Image, *, with_alpha: bool) -> Image.Image:
    """Return a picture in grey or in red, green and blue, with transparency where it has some and it is wanted."""
    profile = picture.info.get("icc_profile")
    if picture.mode.startswith("I"):  # 16 bits of grey
        picture = picture.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    seen_through = "transparency" in picture.info or picture.mode in ("LA", "PA", "RGBA", "RGBa", "La")
    if picture.mode in ("1", "L", "LA") and not (picture.mode != "LA" and seen_through):
        plain = picture.convert("LA" if seen_through else "L")
    elif seen_through:
        plain = picture.convert("RGBA")
    else:
        plain = _of_screens(picture if picture.mode == "CMYK" else picture.convert("RGB"), profile)
    if seen_through and not with_alpha:
        plain = plain.convert("RGB")
    return plain


def _of_screens(picture: Image.Image, profile: bytes | None) -> Image.Image:
    """Return a picture in the colours that a screen takes for granted, from those that its profile describes."""
    if profile and _PROFILE_OF_SCREENS not in profile:
        from PIL import ImageCms

        try:
            described = ImageCms.ImageCmsProfile(BytesIO(profile))
            found = ImageCms.profileToProfile(picture, described, ImageCms.createProfile("sRGB"), outputMode="RGB")
            if found is not None:
                return found
        except (ImageCms.PyCMSError, OSError, ValueError):
            pass  # of other colours than the picture's: then nothing is known of them
    return picture.convert("RGB")


def _density(opened: Image.Image) -> float | None:
    """Return the dots to the inch that a file claims, when it can be so."""
    claimed = opened.info.get("dpi")
    try:
        density = float(claimed[0]) if claimed else 0.0
    except (TypeError, ValueError, ZeroDivisionError, IndexError):
        return None
    return density if DENSITIES[0] <= density <= DENSITIES[1] else None
