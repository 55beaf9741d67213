"""What readers get of a picture: its dots, upright and no larger than paper needs; read back piece by piece here."""

from __future__ import annotations

import base64
import re
import struct
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from putback.pictures import BadPictureError, Crop, published, shown_size
from putback.pictures.photograph import LONGEST_SIDE, Published, clean_photograph
from putback.pictures.plain_drawing import clean_drawing

from .samples import png, svg
from .test_pictures import GOOD, LEFT_OUT, put

SECRET = "Dorf 7, camera no. 4711"
RED, GREEN, BLUE = (254, 0, 0), (0, 255, 1), (0, 0, 254)


def three_colours(width: int, height: int) -> Image.Image:
    """Red at the top left, green at the top right, blue below."""
    picture = Image.new("RGB", (width, height), BLUE)
    picture.paste(RED, (0, 0, width // 2, height // 2))
    picture.paste(GREEN, (width // 2, 0, width, height // 2))
    return picture


def full_of_secrets(kind: str, picture: Image.Image, orientation: int = 1) -> bytes:
    """A picture with everything that a camera and a photo program say in it."""
    told = Image.Exif()
    told[0x0112] = orientation
    told[0x010F] = told[0x010E] = SECRET
    told.get_ifd(0x8825).update({1: "N", 2: (50.0, 1.0, 2.0), 29: SECRET})
    options: dict[str, Any] = {"exif": told}
    if kind == "PNG":
        from PIL.PngImagePlugin import PngInfo

        remarks = PngInfo()
        remarks.add_text("Author", SECRET, zip=True)
        remarks.add_itxt("XML:com.adobe.xmp", SECRET)
        options["pnginfo"] = remarks
    else:
        options |= {"xmp": SECRET.encode(), "quality": 95}
    if kind == "JPEG":
        options["comment"] = SECRET
    stream = BytesIO()
    picture.save(stream, kind, **options)
    data = stream.getvalue()
    return data + SECRET.encode() if kind != "WEBP" else data


def pieces(data: bytes) -> list[str]:
    """Return the names of the pieces of a file, read without any library, up to its end."""
    found: list[str] = []
    if data[:2] == b"\xff\xd8":
        at = 2
        while data[at + 1] != 0xDA:
            found.append(f"{data[at + 1]:02X}")
            at += 2 + struct.unpack_from(">H", data, at + 2)[0]
        end = data.index(b"\xff\xd9", at)
        assert end + 2 == len(data), "something follows the picture"
    elif data[:4] == b"\x89PNG":
        at = 8
        while at < len(data):
            length, name = struct.unpack_from(">I4s", data, at)
            found.append(name.decode())
            at += 12 + length
        assert found[-1] == "IEND"
    else:
        assert struct.unpack_from("<I", data, 4)[0] + 8 == len(data)
        at = 12
        while at < len(data):
            name, length = struct.unpack_from("<4sI", data, at)
            found.append(name.decode().strip())
            at += 8 + length + length % 2
    return found


PLAIN = {
    "JPEG": {"E0", "DB", "C0", "C4"},  # frame of the file, tables, frame of the picture, tables
    "PNG": {"IHDR", "IDAT", "IEND", "pHYs"},
    "WEBP": {"VP8", "VP8L", "VP8X", "ALPH"},
}
"""The pieces that hold a picture and its size."""


def colour_at(clean: Published, across: float, down: float) -> tuple[int, ...]:
    picture = Image.open(BytesIO(clean.data)).convert("RGB")
    found = picture.getpixel((int(across * picture.width), int(down * picture.height)))
    assert isinstance(found, tuple)
    return tuple(round(part / 255) for part in found)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_nothing_is_left_but_the_picture(kind: str, tmp_path: Path) -> None:
    data = full_of_secrets(kind, three_colours(60, 40))
    assert set(pieces(data.removesuffix(SECRET.encode()))) - PLAIN[kind], "the sample holds no secrets"
    file = put(tmp_path, f"a.{ {'JPEG': 'jpg'}.get(kind, kind.lower()) }", data)
    clean = published(file, tmp_path)
    assert set(pieces(clean.data)) <= PLAIN[kind]
    assert b"4711" not in clean.data
    assert file.read_bytes() == data, "the author's own file is changed"
    assert published(file, tmp_path) == clean
    assert (clean.width, clean.height) == (60, 40)
    assert [colour_at(clean, x, y) for x, y in [(0.2, 0.2), (0.8, 0.2), (0.5, 0.8)]] == [
        (1, 0, 0),
        (0, 1, 0),
        (0, 0, 1),
    ]


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_photograph_stands_as_it_was_held(orientation: int, tmp_path: Path) -> None:
    held = three_colours(60, 40)
    back = {
        2: Image.Transpose.FLIP_LEFT_RIGHT, 3: Image.Transpose.ROTATE_180, 4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE, 6: Image.Transpose.ROTATE_90, 7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }  # fmt: skip
    stored = held.transpose(back[orientation]) if orientation > 1 else held
    file = put(tmp_path, "a.jpg", full_of_secrets("JPEG", stored, orientation))
    clean = published(file, tmp_path)
    assert (clean.width, clean.height) == (60, 40) == shown_size(file, tmp_path)
    assert [colour_at(clean, x, y) for x, y in [(0.2, 0.2), (0.8, 0.2), (0.5, 0.8)]] == [
        (1, 0, 0),
        (0, 1, 0),
        (0, 0, 1),
    ]
    part = published(file, tmp_path, Crop(0.5, 0.0, 1.0, 0.5))
    assert (part.width, part.height) == (30, 20), "the crop is of the picture as it is seen"
    assert {colour_at(part, x, y) for x in (0.1, 0.9) for y in (0.1, 0.9)} == {(0, 1, 0)}


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_large_photograph_is_made_as_small_as_paper_needs(kind: str, tmp_path: Path) -> None:
    picture = three_colours(4200, 3000)
    clean = clean_photograph(full_of_secrets(kind, picture), "WebP" if kind == "WEBP" else kind)
    assert (clean.width, clean.height) == (LONGEST_SIDE, 1500)
    part = clean_photograph(full_of_secrets(kind, picture), "WebP" if kind == "WEBP" else kind, Crop(0, 0, 0.5, 0.5))
    assert (part.width, part.height) == (LONGEST_SIDE, 1500), "a part of it keeps its own dots"
    assert {colour_at(part, x, y) for x in (0.1, 0.9) for y in (0.1, 0.9)} == {(1, 0, 0)}


@given(
    st.integers(1, 300), st.integers(1, 300), st.integers(1, 8),
    st.tuples(st.floats(0, 0.98), st.floats(0, 0.98), st.floats(0.02, 1), st.floats(0.02, 1)),
)  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_any_part_of_any_picture(wide: int, high: int, orientation: int, box: tuple[float, ...]) -> None:
    left, top, width, height = box
    crop = Crop(left, top, min(1.0, left + width), min(1.0, top + height))
    told = Image.Exif()
    told[0x0112] = orientation
    stream = BytesIO()
    Image.new("L", (wide, high)).save(stream, "PNG", exif=told)
    clean = clean_photograph(stream.getvalue(), "PNG", crop)
    seen = (high, wide) if orientation > 4 else (wide, high)
    for got, whole, part in zip((clean.width, clean.height), seen, (2, 3), strict=True):
        assert 1 <= got <= whole
        assert abs(got - whole * (crop[part] - crop[part - 2])) <= 1


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "CMYK", "I;16"])
def test_every_way_of_keeping_dots(mode: str, tmp_path: Path) -> None:
    kind = "JPEG" if mode == "CMYK" else "PNG"
    stream = BytesIO()
    Image.new(mode, (9, 7)).save(stream, kind)
    clean = clean_photograph(stream.getvalue(), kind)
    assert Image.open(BytesIO(clean.data)).mode in ("L", "LA", "RGB", "RGBA")
    assert set(pieces(clean.data)) <= PLAIN[kind]


def test_of_a_photograph_that_carries_another_the_first_is_shown() -> None:
    stream = BytesIO()
    three_colours(40, 30).save(stream, "MPO", save_all=True, append_images=[Image.new("RGB", (80, 60), RED)])
    clean = clean_photograph(stream.getvalue(), "JPEG")
    assert (clean.kind, clean.width, clean.height) == ("JPEG", 40, 30)
    with Image.open(BytesIO(clean.data)) as again:
        assert getattr(again, "n_frames", 1) == 1
        assert len(clean.data) < len(stream.getvalue())


def test_what_moves_keeps_its_frames_and_loses_its_comment() -> None:
    frames = [Image.new("RGB", (20, 10), colour) for colour in (RED, GREEN, BLUE)]
    stream = BytesIO()
    frames[0].save(stream, "GIF", save_all=True, append_images=frames[1:], duration=200, comment=SECRET.encode())
    assert b"4711" in stream.getvalue()
    clean = clean_photograph(stream.getvalue(), "GIF")
    assert b"4711" not in clean.data
    assert getattr(Image.open(BytesIO(clean.data)), "n_frames", 1) == 3
    assert clean_photograph(stream.getvalue(), "GIF") == clean


@pytest.mark.parametrize(
    "data",
    [
        full_of_secrets("JPEG", three_colours(60, 40))[:900] + b"\xff\xd9",
        png(50, 50, rows=3),
        b"\x89PNG\r\n\x1a\n" + b"\0" * 90,
    ],
)
def test_a_damaged_picture_is_refused_when_it_is_unpacked(data: bytes) -> None:
    with pytest.raises(BadPictureError, match=r"it cannot be unpacked: it is damaged|it is cut off"):
        clean_photograph(data, "JPEG" if data[:2] == b"\xff\xd8" else "PNG")


# drawings


@pytest.mark.parametrize("name", [name for name in (*GOOD, *LEFT_OUT) if name.endswith(".svg")])
def test_a_drawing_is_written_as_it_was_drawn(name: str, tmp_path: Path) -> None:
    content = GOOD.get(name) or LEFT_OUT[name][0]
    clean = published(put(tmp_path, name, content), tmp_path)
    again = clean_drawing(clean.data)
    assert again == clean, "cleaning it once more changes it"
    for gone in ("<script", "<a ", "<a>", "on[a-z]+=", "javascript", "<!--", "<!DOCTYPE", "metadata", "example.org/d"):
        assert re.search(gone, clean.data.decode(), re.IGNORECASE) is None, gone
    shapes = re.compile(r"\b(rect|path|use|text|image|stop|feFlood)\b")
    before = ET.fromstring(content if isinstance(content, str) else content.decode())
    assert [e.tag for e in ET.fromstring(clean.data).iter() if shapes.search(e.tag)] == [
        e.tag for e in before.iter() if shapes.search(e.tag)
    ]


def test_notes_of_the_drawing_program_and_photographs_in_a_drawing_are_cleaned() -> None:
    photograph = full_of_secrets("JPEG", three_colours(30, 20))
    address = f"data:image/jpeg;base64,{base64.b64encode(photograph).decode()}"
    drawing = svg(
        f"<!-- {SECRET} --><metadata>{SECRET}</metadata><style>/* {SECRET} */ .a{{fill:red}}</style>"
        f'<o:x xmlns:o="urn:o">{SECRET}<rect/></o:x><g xmlns:o="urn:o" o:file="{SECRET}" data-file="{SECRET}">'
        f'<image href="{address}" width="9" height="9"/></g><text>M8 &lt; M10</text>'
    )
    clean = clean_drawing(drawing.encode()).data.decode()
    assert "4711" not in clean
    assert "<text>M8 &lt; M10</text>" in clean
    assert ".a{fill:red}" in clean
    found = re.search(r"base64,([^\"]+)", clean)
    assert found
    assert set(pieces(base64.b64decode(found[1]))) <= PLAIN["JPEG"]


def test_a_part_of_a_drawing_stands_at_its_place() -> None:
    drawing = svg("<rect width='9' height='9'/>", 'viewBox="-10 -10 40 20" width="80mm" height="40mm"')
    clean = clean_drawing(drawing.encode(), Crop(0.25, 0.5, 0.75, 1.0))
    root = ET.fromstring(clean.data)
    pixels = 80 * 96 / 25.4
    assert [round(float(part), 2) for part in root.attrib["viewBox"].split()] == [
        round(part * pixels, 2) for part in (0.25, 0.25, 0.5, 0.25)
    ]
    assert (round(clean.width, 2), round(clean.height, 2)) == (round(pixels / 2, 2), round(pixels / 4, 2))
    assert root[0].attrib["viewBox"] == "-10 -10 40 20"


def test_a_drawing_without_a_size_has_no_places() -> None:
    with pytest.raises(BadPictureError, match="it does not say how large it is"):
        clean_drawing(svg("<rect/>", "").encode(), sized=True)
