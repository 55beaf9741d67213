"""Inputs to begin with, made from what is in the repository today, and words that a fuzzer may put into others."""

from __future__ import annotations

import io
from collections.abc import Iterator
from random import Random

from putback.source.schema import FileKind
from tests.fuzz import vocabulary as v
from tests.fuzz.guides import TINY, bench_texts, shipped_texts
from tests.fuzz.shapes import EVERY_KEY
from tests.fuzz.targets.shapes import KINDS
from tests.fuzz.targets.values import READERS

_FOLDERS = {"jobs": FileKind.JOB, "blocks": FileKind.BLOCK}


def seeds(target: str, longest: int) -> list[bytes]:
    """Return inputs for a target, none of them longer than it takes."""
    return sorted({data for data in _MADE[target]() if len(data) <= longest})


def words() -> list[bytes]:
    """Return words for the fuzzer's dictionary."""
    found = {*v.FRAGMENTS, *EVERY_KEY, *v.EVERY_NAME, *_PO, *_SVG}
    found |= {value for pool in v.QUANTITIES.values() for value in pool}
    found |= {value for pool in v.TEXTS.values() for value in pool if isinstance(value, str)}
    found |= {value for value in (*v.ODD_QUANTITIES, *v.ODD_TEXTS) if len(value) < 40}
    return sorted({word.encode("utf-8", "surrogatepass") for word in found if word})


def dictionary() -> str:
    """Return them as the fuzzer reads them."""
    return "".join('"' + "".join(f"\\x{byte:02x}" for byte in word) + '"\n' for word in words())


_PO = (
    'msgid "', 'msgctxt "', 'msgstr "', "#, fuzzy", "#~ ", "#| ", "#. ", "#: machine.yaml:1", "charset=UTF-8",
    "Language: de\\n", '"\n', "\\n", "<<<<<<< ",
)  # fmt: skip
_SVG = (
    "<svg", "<g", "<path", "<use", "<image", "<style", "<text", "<defs", "<a ", "<script", "<!DOCTYPE svg", "<![CDATA[",
    "<!--", "-->", "/>", "viewBox", "xlink:href", "href", "url(#a)", "data:image/png;base64,", "transform", "&#60;",
    " onload", "foreignObject", 'xmlns="http://www.w3.org/2000/svg"', "<clipPath", "<linearGradient", "style", "fill",
)  # fmt: skip


def _texts() -> Iterator[tuple[str, str]]:
    for files in (TINY, *bench_texts(), *shipped_texts()):
        yield from files.items()


def _yaml() -> Iterator[bytes]:
    for fragment in (*v.FRAGMENTS, *v.ODD_TEXTS):
        yield f"a: {fragment}\nb: [x, {{c: d}}]\n".encode("utf-8", "surrogatepass")
    for name, text in _texts():
        if name.endswith(".yaml"):
            yield from (part.encode() for part in text.split("\n\n"))


def _shapes() -> Iterator[bytes]:
    for name, text in _texts():
        stem = name.partition("/")[0].removesuffix(".yaml")
        kind = _FOLDERS.get(stem, stem)
        if name.endswith(".yaml") and kind in KINDS:
            yield bytes([KINDS.index(FileKind(kind))]) + text.encode()


def _values() -> Iterator[bytes]:
    for number, reader in enumerate(READERS[:-2]):
        keys = _SAID_BY.get(reader.__name__)
        lead = chr(8) if reader.__name__ in ("layout", "quantity_of_kind") else ""
        pools = [v.TEXTS[key] for key in keys] if keys else [*v.QUANTITIES.values(), v.ODD_QUANTITIES]
        texts = {value for pool in pools for value in pool if isinstance(value, str)}
        yield from (bytes([number]) + f"{lead}{text}".encode() for text in sorted(texts))
    yield from (bytes([8]) + text for text in (b"20 N\xc2\xb7m;snug;50 %;90\xc2\xb0;back 90\xc2\xb0", b";5 N\xc2\xb7m"))


_SAID_BY = {
    "thread": ("thread",), "strength": ("class",), "film": ("condition",), "material": ("material", "insert"),
    "drive": ("drive",), "layout": ("layout", "order"), "stages": ("order",), "measure": ("inspect-when-off",),
}  # fmt: skip
"""Readers, and the keys of the language whose texts they read; the others read quantities."""


def _pages() -> Iterator[bytes]:
    for name, text in _texts():
        if name.endswith(".md"):
            yield from (part.encode() for part in text.split("\n\n"))
    yield from (f"{line}\n\n| torque | N·m |\n| --- | --- |\n| nut | 18 |\n".encode() for line in v.MARKDOWN)
    yield b"Renew the oil every 200 h.\n"


def _catalogues() -> Iterator[bytes]:
    yield b'msgid ""\nmsgstr "Language: de\\n"\n\nmsgctxt "machine"\nmsgid "Trial"\nmsgstr "Probe"\n'
    yield b'#, fuzzy\n#| msgid "Old"\nmsgctxt "job first"\nmsgid "Look under the lid"\nmsgstr "Unter"\n" den"\n'
    yield b'# a remark\n#. note\n#: jobs/first.yaml:1\nmsgid "a"\nmsgstr ""\n\n#~ msgid "b"\n#~ msgstr "c"\n'


def _drawings() -> Iterator[bytes]:
    def drawing(inner: str, box: str = 'viewBox="0 0 40 30"') -> bytes:
        return f'<svg xmlns="http://www.w3.org/2000/svg" {box}>{inner}</svg>'.encode()

    yield drawing('<path d="M0 0L9 9" style="fill:red"/><text x="1" y="2">nut &amp; bolt</text>')
    yield drawing('<defs><g id="a"><rect width="3" height="4"/></g></defs><use href="#a" x="5"/><!-- x -->')
    yield drawing("<style>.a{fill:none}</style><circle class='a' r='4'/>", 'width="40mm" height="3cm"')
    yield drawing(
        '<linearGradient id="b"><stop offset="0"/></linearGradient><rect fill="url(#b)" width="1" height="1"/>'
    )
    yield drawing('<metadata>x</metadata><script>x()</script><a href="https://x"><circle r="1"/></a>')
    yield drawing('<image href="data:image/png;base64,iVBORw0KGgo=" width="1" height="1"/>')


def _photographs() -> Iterator[bytes]:
    from PIL import Image

    for kind, mode in (("PNG", "RGB"), ("PNG", "P"), ("PNG", "LA"), ("GIF", "P"), ("JPEG", "L"), ("WEBP", "RGB")):
        file = io.BytesIO()
        Image.new(mode, (3, 2)).save(file, kind)
        yield file.getvalue()
    for kind in ("GIF", "PNG"):
        file = io.BytesIO()
        frames = [Image.new("P", (2, 2), color) for color in (1, 2)]
        frames[0].save(file, kind, save_all=True, append_images=frames[1:])
        yield file.getvalue()


def _guides() -> Iterator[bytes]:
    yield b"\xff"
    yield from (Random(number).randbytes(size) for number, size in enumerate(range(50, 450, 20)))


def _commands() -> Iterator[bytes]:
    yield from (Random(number).randbytes(24) for number in range(120))


_MADE = {
    "yaml": _yaml, "shapes": _shapes, "values": _values, "pages": _pages, "catalogues": _catalogues,
    "drawings": _drawings, "photographs": _photographs, "guides": _guides, "commands": _commands,
}  # fmt: skip
