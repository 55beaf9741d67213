"""Pictures from strangers: each bad one is refused with words, within a moment, and no good one is."""

from __future__ import annotations

import os
import time
import zlib
from contextlib import suppress
from pathlib import Path

import pytest

from putback.pictures import BadPictureError, Picture, examine
from putback.pictures.raster import MOST_PIXELS, read_raster

from .samples import SVG, chunk, embedded, gif, jpeg, laughs, png, svg, webp

RECT = '<rect width="9" height="9"/>'
LOGO = "<!DOCTYPE svg PUBLIC '-//W3C//DTD SVG 1.1//EN' 'http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd'>"
SHADOW = (
    '<filter id="f"><feFlood/><feComposite operator="in"/><feGaussianBlur stdDeviation="2"/><feOffset dx="1"/>'
    "<feComposite/></filter>"
)
SQUARES = '<rect width="1" height="1"/>'

GOOD: dict[str, str | bytes] = {
    "plain.svg": svg(RECT),
    "no-size.svg": svg(RECT, ""),
    "percent.svg": svg(RECT, 'width="100%" height="100%" viewBox="0 0 10 10"'),
    "millimetres.svg": svg(RECT, 'width="80mm" height="60.5mm" viewBox="-4,-3 80 60"'),
    "auto.svg": svg(RECT, 'width="auto"'),
    "declared.svg": '<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n' + svg(RECT),
    "byte-order.svg": "\ufeff" + svg(RECT),
    "doctype.svg": LOGO + svg(RECT),
    "latin-in-name-only.svg": '<?xml version="1.0" encoding="ISO-8859-1"?>' + svg(RECT),
    "comment.svg": "<!-- <!ENTITY a 'b'> <script> -->" + svg("<!-- javascript: -->" + RECT),
    "drawing-program.svg": svg(
        '<o:namedview xmlns:o="http://example.org/draw" o:window="1" o:onzoom="9"/><metadata><o:x '
        'xmlns:o="http://example.org/draw" rdf="y"/></metadata>' + RECT
    ),
    "text.svg": svg('<text x="1" y="9" font-family="Sans, serif">18 N·m <tspan>→ 3</tspan></text>'),
    "gradient.svg": svg(
        '<defs><linearGradient id="a"><stop/></linearGradient><radialGradient id="b" xlink:href="#a"/></defs>'
        '<rect fill="url(#b)" width="9" height="9"/>'
    ),
    "gradient-of-all.svg": f'<svg {SVG} fill="url(#a)"><linearGradient id="a"><stop/></linearGradient>{RECT}</svg>',
    "style.svg": svg("<style>.a,.b{fill:none;stroke:url(#s)} @media print{.c{fill:red}}</style>" + RECT),
    "many-classes.svg": svg(
        "<style>.g{fill:url(#g)}</style><linearGradient id='g'><stop/><stop/></linearGradient>"
        + '<path class="g" d="M0 0"/>' * 5000
    ),
    "shadow.svg": svg(SHADOW + '<rect width="9" height="9" filter="url(#f)"/>'),
    "shadow-unused.svg": svg(SHADOW * 1 + RECT * 50),
    "clip-and-mask.svg": svg(
        '<clipPath id="c"><path d="M0 0h9v9z"/></clipPath><mask id="m"><path d="M0 0h9v9z"/></mask>'
        '<g clip-path="url(#c)"><path mask="url(#m)" d="M0 0h5"/></g>'
    ),
    "arrow.svg": svg(
        '<marker id="m"><path d="M0 0L1 1"/></marker><path marker-end="url(#m)" d="M0 0L5 5"/><use href="#x"/>'
        '<g id="x"><path d="M0 0"/></g>'
    ),
    "link.svg": svg('<a href="https://example.org/data"><text>data sheet</text></a>'),
    "photo-inside.svg": embedded(png(20, 10)),
    "laughs-a-little.svg": laughs(10, 4),
    "prefixed.svg": '<s:svg xmlns:s="http://www.w3.org/2000/svg"><s:rect width="1" height="1"/></s:svg>',
    "grey.png": png(200, 100),
    "UPPER.PNG": png(2, 2),
    "remark.png": png(2, 2, extra=chunk(b"zTXt", b"Comment\0\0" + zlib.compress(b"hello"))),
    "large.png": png(7000, 7000, rows=1),
    "photo.jpg": jpeg(4000, 3000),
    "progressive.jpeg": jpeg(40, 30, frame=0xC2),
    "more-behind.jpg": jpeg(40, 30) + b"maker's data",
    "one.gif": gif(10, 10),
    "moving.gif": gif(100, 100, frames=5),
    "old.gif": gif(10, 10)[:-1],
    "one.webp": webp(30, 40),
    "canvas.webp": webp(30, 40, canvas=(30, 40)),
}

LEFT_OUT: dict[str, tuple[str, str]] = {
    "script.svg": (svg("<script>alert(1)<g>x</g></script>" + RECT), "a program ('script'), on line 1"),
    "script-prefixed.svg": (
        svg('<s:script xmlns:s="http://www.w3.org/2000/svg" href="x.js"/>'),
        "a program ('script'), on line 1",
    ),
    "onload.svg": (f'<svg {SVG} onload="alert(1)"/>', "a program ('onload'), on line 1"),
    "onclick.svg": (svg('<rect\n onClick="x()"/>'), "a program ('onClick'), on line 1"),
    "javascript-link.svg": (
        svg('\n<a xlink:href="javascript:alert(1)"><text>x</text></a>'),
        "a link to 'javascript:alert(1)', on line 2",
    ),
    "data-link.svg": (svg('<a href="data:text/html,x"/>'), "a link to 'data:text/html,x', on line 1"),
}
"""Drawings that look the same without something in them."""

BAD: dict[str, tuple[str | bytes, str]] = {
    # not well-formed, or no drawing
    "empty.svg": ("", "the file is empty"),
    "words.svg": ("hello", "it is not an SVG file, but its name ends in .svg"),
    "html.svg": ("<html xmlns='http://www.w3.org/1999/xhtml'/>", "it is not an SVG file"),
    "svg-in-html.svg": (
        f"<html>{svg(RECT)}</html>",
        "it begins with 'html', but a drawing begins with 'svg', on line 1",
    ),
    "no-namespace.svg": ("<svg><rect/></svg>", "browsers do not treat it as a drawing, on line 1"),
    "other-namespace.svg": ("<svg xmlns='urn:x'/>", "browsers do not treat it as a drawing"),
    "cut-off.svg": (svg(RECT)[:-9], "it is not a complete SVG"),
    "cut-in-a-tag.svg": (svg(RECT)[:90], "it is not a complete SVG: "),
    "crossed.svg": (svg("<g><text></g></text>"), "it is not a complete SVG: mismatched tag, on line 1"),
    "two-roots.svg": (svg("") + svg(""), "it is not a complete SVG: junk after document element"),
    "twice.svg": (svg('<rect x="1" x="2"/>'), "it is not a complete SVG: duplicate attribute"),
    "prefix.svg": (svg("<ink:x/>"), "it is not a complete SVG: unbound prefix"),
    "undeclared.svg": (svg("<text>&nbsp;</text>"), "it is not a complete SVG: undefined entity"),
    "control.svg": (svg("<text>&#1;</text>"), "it is not a complete SVG: reference to invalid character number"),
    "nul.svg": (svg("<text>\0</text>"), "it is not a complete SVG: not well-formed"),
    "utf-16.svg": (svg(RECT).encode("utf-16"), "it is not an SVG file"),
    "latin-1.svg": (svg("<text>Lücke</text>").encode("latin-1"), "it is not UTF-8 text"),
    "says-latin-1.svg": (
        '<?xml version="1.0" encoding="latin-1"?>' + svg("<text>ü</text>"),
        "it says that it is latin-1",
    ),
    "packed.svg": (b"\x1f\x8b\x08\0\0\0\0\0", "it is not an SVG file"),
    # declarations
    "entity.svg": ('<!DOCTYPE svg [<!ENTITY a "b">]>' + svg("<text>&a;</text>"), "it has declarations of its own"),
    "laughing-entities.svg": (
        '<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]>' + svg("<text>&b;</text>"),
        "it has declarations of its own",
    ),
    "file-entity.svg": (
        '<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>' + svg("<text>&a;</text>"),
        "it has declarations",
    ),
    "parameter-entity.svg": (
        '<!DOCTYPE svg [<!ENTITY % a SYSTEM "x"> %a;]>' + svg(""),
        "it has declarations of its own",
    ),
    "sheet.svg": (
        '<?xml-stylesheet href="http://example.org/x.css"?>' + svg(RECT),
        "it loads something else ('<?xml-styles",
    ),
    # size
    "nothing-wide.svg": (
        svg(RECT, 'width="0" height="9"'),
        "its width is '0', but must be a length above 0, on line 1",
    ),
    "negative.svg": (svg(RECT, 'width="9" height="-9"'), "its height is '-9', but must be a length above 0"),
    "endless.svg": (svg(RECT, 'width="1e39" height="1"'), "its width is '1e39'"),
    "nan.svg": (svg(RECT, 'width="NaN" height="1"'), "its width is 'NaN'"),
    "words-wide.svg": (svg(RECT, 'width="wide"'), "its width is 'wide'"),
    "flat-box.svg": (svg(RECT, 'viewBox="0 0 0 9"'), "its viewBox is '0 0 0 9', but must be four numbers"),
    "short-box.svg": (svg(RECT, 'viewBox="0 0 9"'), "its viewBox is '0 0 9'"),
    # what runs, moves, loads
    "script-of-html.svg": (
        svg('<h:script xmlns:h="http://www.w3.org/1999/xhtml"/>'),
        "it contains a piece of a web page",
    ),
    "foreign.svg": (svg("<foreignObject/>"), "it contains a page of its own ('foreignObject')"),
    "animate.svg": (svg("<rect><animate attributeName='x'/></rect>"), "it moves ('animate')"),
    "set.svg": (svg("<rect><set attributeName='x'/></rect>"), "it moves ('set')"),
    "flow.svg": (svg("<flowRoot/>"), "it has flowing text ('flowRoot'), which browsers do not show"),
    "unheard-of.svg": (svg("<frobnicate/>"), "it has an element 'frobnicate', which is not known"),
    "http-image.svg": (
        svg('<image href="http://example.org/a.png"/>'),
        "it shows 'http://example.org/a.png', which is",
    ),
    "file-image.svg": (svg('<image xlink:href="/etc/passwd"/>'), "it shows '/etc/passwd', which is not part of it"),
    "beside-image.svg": (
        svg('<image href="../../a.png"/>'),
        "it shows '../../a.png', which is not part of it",
    ),
    "svg-in-image.svg": (
        svg('<image href="data:image/svg+xml;base64,AAAA"/>'),
        "it contains a file that is not a PNG, JPEG",
    ),
    "text-in-image.svg": (
        svg('<image href="data:text/plain,x"/>'),
        "it contains a file that is not a PNG, JPEG, GIF or WebP",
    ),
    "bad-image.svg": (svg('<image href="data:image/png;base64,AAAA"/>'), "a picture in it is not a PNG"),
    "worse-image.svg": (svg('<image href="data:image/png;base64,%%"/>'), "a picture in it is damaged"),
    "large-image.svg": (
        embedded(png(60000, 60000, rows=1)),
        "a picture in it is refused: it is 60,000 by 60,000 pixels",
    ),
    "use-elsewhere.svg": (svg('<use href="other.svg#a"/>'), "it shows 'other.svg#a', which is not part of it"),
    "fill-elsewhere.svg": (svg('<rect fill="url(http://example.org/#a)"/>'), "its style loads 'http://example.org/#a'"),
    "style-elsewhere.svg": (svg("<rect style=\"fill: URL( 'x.svg#a' )\"/>"), "its style loads 'x.svg#a'"),
    "sheet-elsewhere.svg": (svg("<style>a{fill:url(//example.org)}</style>"), "its style loads '//example.org'"),
    "import.svg": (svg("<style>@IMPORT 'x.css';</style>"), "its style loads another style sheet ('@import')"),
    "font.svg": (svg("<style>@font-face{src:url(#a)}</style>"), "its style brings a font ('@font-face')"),
    "hidden-style.svg": (svg("<style>a{fill:\\75rl(//x)}</style>"), "its style hides words"),
    "base.svg": (svg('<g xml:base="http://example.org/"/>'), "it says that its addresses start from elsewhere"),
    "turned.svg": (svg("<text>M8 \u202e021</text>"), "a text in it reverses the order of its letters (U+202E)"),
    "turned-by-number.svg": (svg("<text>&#x2067;12</text>"), "a text in it reverses the order of its letters (U+2067)"),
    # what would take too long
    "turbulence.svg": (svg("<filter><feTurbulence numOctaves='99'/></filter>"), "it has a filter ('feTurbulence')"),
    "lighting.svg": (svg("<filter><feDiffuseLighting/></filter>"), "it has a filter ('feDiffuseLighting')"),
    "morphology.svg": (svg("<filter><feMorphology radius='999'/></filter>"), "it has a filter ('feMorphology')"),
    "filter-image.svg": (svg("<filter><feImage href='x'/></filter>"), "it has a filter ('feImage')"),
    "blurs.svg": (svg(SHADOW + '<path filter="url(#f)"/>' * 5), "it uses filters 25 times; the limit is 24"),
    "blurs-by-style.svg": (
        svg("<style>path{filter:url(#f)}</style>" + SHADOW + "<path/>" * 5),
        "it uses filters 25 times",
    ),
    "blurs-by-class.svg": (svg("<style>g .a{filter:blur(9px)}</style>" + "<path/>" * 40), "it uses filters 4"),
    "blurs-by-use.svg": (
        svg(SHADOW + '<g id="a"><path style="filter:url(#f)"/></g>' + '<use href="#a"/>' * 9),
        "it uses filters 50 times",
    ),
    "blur-words.svg": (svg('<path filter="blur(1px) blur(1px)"/>' * 13), "it uses filters 26 times"),
    "laughs.svg": (laughs(10, 10), "it draws 6,"),
    "laughs-long.svg": (laughs(2, 60), "it draws more than 10^12 shapes; the limit is 200,000"),
    "laughing-patterns.svg": (
        svg(
            "".join(f'<pattern id="p{at}">{f"""<path fill="url(#p{at - 1})"/>""" * 10}</pattern>' for at in range(1, 9))
            + '<pattern id="p0"><path d="M0 0"/></pattern><rect fill="url(#p8)"/>'
        ),
        "it draws 680,",
    ),
    "laughing-masks.svg": (
        svg(
            "".join(f'<mask id="p{at}">{f"""<g mask="url(#p{at - 1})"/>""" * 10}</mask>' for at in range(1, 9))
            + '<mask id="p0"><path d="M0 0"/></mask><g mask="url(#p8)"/>'
        ),
        "it draws 680,",
    ),
    "laughing-clips.svg": (
        svg(
            "".join(
                f'<clipPath id="p{at}">{f"""<path clip-path="url(#p{at - 1})"/>""" * 10}</clipPath>'
                for at in range(1, 9)
            )
            + '<g clip-path="url(#p8)"/>'
        ),
        "it draws ",
    ),
    "laughing-markers.svg": (
        svg('<marker id="m">' + SQUARES * 500 + '</marker><path marker-mid="url(#m)" d="M0 0' + " L1 1" * 9000 + '"/>'),
        "it draws 5,",
    ),
    "handed-down.svg": (
        svg('<pattern id="p">' + SQUARES * 500 + '</pattern><g fill="url(#p)">' + SQUARES * 500 + "</g>"),
        "it draws 252,",
    ),
    "round.svg": (svg('<g id="a"><use href="#a"/></g>'), "it shows 'a' inside itself"),
    "round-in-two.svg": (svg('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'), "inside itself"),
    "round-pattern.svg": (
        svg('<pattern id="p"><path fill="url(#p)"/></pattern><path fill="url(#p)"/>'),
        "inside itself",
    ),
    "round-gradient.svg": (
        svg('<linearGradient id="a" href="#b"/><linearGradient id="b" href="#a"/>'),
        "inside itself",
    ),
    "deep.svg": (svg("<g>" * 300 + "</g>" * 300), "its elements are nested more than 200 deep"),
    "very-deep.svg": (svg("<g>" * 100_000), "its elements are nested more than 200 deep"),
    "many.svg": (svg(SQUARES * 200_001), "it has more than 200,000 elements"),
    "talks.svg": (svg("<text>" + "x" * 9_000 + "</text>" + "<text>y</text>" * 11_001), "more than 20,000 letters"),
    # raster pictures
    "empty.png": (b"", "the file is empty"),
    "words.png": (b"hello", "it is not a PNG file, but its name ends in .png"),
    "svg.png": (svg(RECT), "it is an SVG file, but its name ends in .png"),
    "png.svg": (png(2, 2), "it is a PNG file, but its name ends in .svg"),
    "png.jpg": (png(2, 2), "it is a PNG file, but its name ends in .jpg"),
    "gif.png": (gif(2, 2), "it is a GIF file, but its name ends in .png"),
    "picture.txt": (png(2, 2), "it is not a picture that can be printed"),
    "page.pdf": (b"%PDF-1.7", "it is not a picture that can be printed"),
    "cut.png": (png(50, 50)[:-20], "it is cut off"),
    "endless-chunk.png": (png(5, 5)[:33] + b"\x7f\xff\xff\xffIDAT", "it is cut off"),
    "header-only.png": (png(5, 5)[:33], "it is cut off"),
    "magic-only.png": (png(5, 5)[:8], "it is cut off"),
    "no-header.png": (png(5, 5)[:8] + png(5, 5)[33:], "it does not begin with a header"),
    "no-data.png": (png(5, 5)[:33] + chunk(b"IEND", b""), "there is no picture in it"),
    "flipped.png": (png(50, 50)[:45] + b"X" + png(50, 50)[46:], "it is damaged: a checksum in it is wrong"),
    "nothing.png": (png(0, 5), "it is 0 by 5 pixels, so it shows nothing"),
    "huge.png": (
        png(60000, 60000, rows=1),
        "it is 60,000 by 60,000 pixels, 3,600,000,000 in all; the limit is 50,000,000",
    ),
    "long.png": (png(2**31 - 1, 1, rows=0), "it is 2,147,483,647 by 1 pixels"),
    "remark-bomb.png": (
        png(2, 2, extra=chunk(b"iCCP", b"x\0\0" + zlib.compress(b"\0" * 50_000_000, 9))),
        "a comment in it unpacks to more",
    ),
    "cut.jpg": (jpeg(5, 5, end=b""), "it is cut off"),
    "start.jpg": (jpeg(5, 5)[:10], "it is cut off"),
    "noise.jpg": (b"\xff\xd8\xff\xe0\0\x02hello", "it is damaged"),
    "no-frame.jpg": (b"\xff\xd8\xff\xd9", "there is no picture in it"),
    "lossless.jpg": (jpeg(5, 5, frame=0xC3), "it is a kind of JPEG that browsers do not show"),
    "flat.jpg": (jpeg(5, 0), "it is 5 by 0 pixels"),
    "huge.jpg": (jpeg(65000, 65000), "it is 65,000 by 65,000 pixels, 4,225,000,000 in all"),
    "huge.gif": (gif(65000, 65000), "it is 65,000 by 65,000 pixels"),
    "huge-frame.gif": (gif(5, 5, frame=(65000, 65000)), "it is 65,000 by 65,000 pixels"),
    "film.gif": (gif(1000, 1000, frames=60), "its frames have 60,000,000 pixels"),
    "film-of-a-corner.gif": (gif(1000, 1000, frames=60, frame=(1, 1)), "its frames have 60,000,000 pixels"),
    "far-frame.gif": (gif(3, 2, frame=(3, 2), at=(38000, 4000)), "a frame in it reaches beyond the picture"),
    "wide-frame.gif": (gif(3, 2, frame=(3, 2), at=(1, 0)), "a frame in it reaches beyond the picture"),
    "low-frame.gif": (gif(3, 2, frame=(3, 2), at=(0, 1)), "a frame in it reaches beyond the picture"),
    "film.png": (png(1000, 1000, extra=chunk(b"fcTL", b"\0" * 26) * 60), "its frames have 60,000,000 pixels"),
    "film.webp": (webp(5, 5, canvas=(1000, 1000), frames=60), "its frames have 60,000,000 pixels"),
    "cut.gif": (gif(5, 5)[:-3], "it is cut off"),
    "no-frame.gif": (gif(5, 5, frames=0), "there is no picture in it"),
    "cut.webp": (webp(5, 5)[:-3], "it is cut off"),
    "huge.webp": (webp(16000, 16000), "it is 16,000 by 16,000 pixels"),
    "huge-canvas.webp": (webp(5, 5, canvas=(1 << 24, 1 << 24)), "it is 16,777,216 by 16,777,216 pixels"),
    "no-frame.webp": (b"RIFF\4\0\0\0WEBP", "there is no picture in it"),
}


def put(folder: Path, name: str, content: str | bytes) -> Path:
    path = folder / name
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def test_each_frame_of_a_film_counts_as_a_whole_picture() -> None:
    assert read_raster(gif(100, 50, frames=3, frame=(1, 1), at=(99, 49)), "GIF").pixels == 3 * 100 * 50


@pytest.mark.parametrize("name", GOOD)
def test_a_good_picture_is_let_through(name: str, tmp_path: Path) -> None:
    assert isinstance(examine(put(tmp_path, name, GOOD[name]), tmp_path), Picture)


@pytest.mark.parametrize("name", LEFT_OUT)
def test_what_is_left_out_is_named(name: str, tmp_path: Path) -> None:
    content, expected = LEFT_OUT[name]
    assert examine(put(tmp_path, name, content), tmp_path).without == (expected,)


@pytest.mark.parametrize("name", BAD)
def test_a_bad_picture_is_refused(name: str, tmp_path: Path) -> None:
    content, expected = BAD[name]
    file = put(tmp_path, name, content)
    start = time.process_time()
    with pytest.raises(BadPictureError) as caught:
        examine(file, tmp_path)
    assert caught.value.message.startswith(expected) or expected in caught.value.message
    assert time.process_time() - start < 10, "grows without end"
    assert not caught.value.message.endswith(".")


@pytest.mark.parametrize("name", ["plain.svg", "photo-inside.svg", "grey.png", "photo.jpg", "canvas.webp"])
def test_a_picture_cut_anywhere_is_refused_and_nothing_else_happens(name: str, tmp_path: Path) -> None:
    content = GOOD[name]
    data = content if isinstance(content, bytes) else content.encode()
    for end in range(0, len(data) - 1, max(1, len(data) // 150)):
        with pytest.raises(BadPictureError):
            examine(put(tmp_path, f"{end}-{name}", data[:end]), tmp_path)


@pytest.mark.parametrize("name", ["plain.svg", "style.svg", "grey.png", "photo.jpg", "one.gif", "canvas.webp"])
def test_a_picture_with_a_byte_changed_is_refused_or_shown(name: str, tmp_path: Path) -> None:
    content = GOOD[name]
    data = bytearray(content if isinstance(content, bytes) else content.encode())
    for at in range(0, len(data), max(1, len(data) // 100)):
        for value in (0, 0x3C, 0xFF):
            changed = data[:at] + bytes([value]) + data[at + 1 :]
            with suppress(BadPictureError):
                examine(put(tmp_path, f"{at}-{value}-{name}", bytes(changed)), tmp_path)


def test_it_says_what_a_picture_costs(tmp_path: Path) -> None:
    assert examine(put(tmp_path, "a.png", png(200, 100)), tmp_path) == Picture("PNG", 20_000)
    assert examine(put(tmp_path, "b.svg", embedded(png(20, 10))), tmp_path).pixels == 200
    drawing = examine(put(tmp_path, "c.svg", svg("<title>Zz</title><text>ab <tspan>→</tspan></text>")), tmp_path)
    assert (drawing.letters, drawing.shapes) == (" ab→", 4)
    assert examine(put(tmp_path, "d.svg", laughs(10, 3)), tmp_path).shapes > 200
    assert MOST_PIXELS > 48_000_000, "a telephone makes pictures of 48 million"


# Where a picture lies


def refusal(file: Path, folder: Path) -> str:
    with pytest.raises(BadPictureError) as caught:
        examine(file, folder)
    return caught.value.message


def test_places_that_are_none(tmp_path: Path) -> None:
    guide = tmp_path / "guide"
    (guide / "folder.svg").mkdir(parents=True)
    outside = put(tmp_path, "outside.svg", svg(RECT))
    put(guide, "good.svg", svg(RECT))
    (guide / "link.svg").symlink_to("good.svg")
    (guide / "out.svg").symlink_to(outside)
    (guide / "device.png").symlink_to("/dev/zero")
    (guide / "nowhere.svg").symlink_to("gone.svg")
    (guide / "round.svg").symlink_to("round.svg")
    (guide / "away").symlink_to(tmp_path)
    os.mkfifo(guide / "pipe.svg")
    assert examine(guide / "link.svg", guide).kind == "SVG"
    assert refusal(guide / "folder.svg", guide) == "it is a folder, not a picture"
    assert refusal(guide / "pipe.svg", guide) == "it is not a file but a pipe, a socket or a device"
    for name in ("out.svg", "device.png", "away/outside.svg"):
        assert refusal(guide / name, guide) == "it is a link that leads outside the guide", name
    for name in ("../outside.svg", str(outside), "/etc/passwd"):
        assert refusal(guide / name, guide) == "it is outside the guide", name
    assert refusal(guide / "nowhere.svg", guide) == "it is a link that leads nowhere"
    assert refusal(guide / "none.svg", guide) == "it is not there"
    assert "cannot be read" in refusal(guide / "round.svg", guide) or "nowhere" in refusal(guide / "round.svg", guide)
    assert refusal(guide / "good.svg" / "x.svg", guide) in ("it is not there", "it cannot be read: not a directory")
    assert refusal(guide / "a\0b.svg", guide) == "its name has a control character"
    assert refusal(guide / "a\x1bb.svg", guide) == "its name has a control character"
    assert refusal(guide / ("a" * 300 + ".svg"), guide) == "its name is longer than 200 bytes"
    assert refusal(Path("/dev/zero"), Path("/dev")) == "it is not a file but a pipe, a socket or a device"


def test_a_file_that_is_too_large_is_not_read(tmp_path: Path) -> None:
    file = tmp_path / "sparse.png"
    with file.open("wb") as stream:
        stream.truncate(1 << 40)
    assert refusal(file, tmp_path) == "it has 1,099,511,627,776 bytes; the limit is 32,000,000"


@pytest.mark.skipif(os.geteuid() == 0, reason="root reads everything")
def test_a_file_that_may_not_be_read(tmp_path: Path) -> None:
    file = put(tmp_path, "a.svg", svg(RECT))
    file.chmod(0)
    assert refusal(file, tmp_path) == "it cannot be read: permission denied"
