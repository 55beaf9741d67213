"""SVG drawings, read element by element as data. Only what is known here is let through.

A drawing in a manual is looked at, on paper and in a browser. So whatever moves, loads something else or holds a page
of its own is refused, and so is what nobody here has heard of (SVG 1.1 second edition and SVG 2, W3C): without it, the
drawing would show something else than its author sees. What can be left out and nothing looks different is passed over
(`without`): programs and links.
"""

from __future__ import annotations

import base64
import binascii
import re
from xml.parsers import expat

from putback.pictures.elements import FILTERS, KNOWN, SVG, WHY, XHTML, XLINK, XML
from putback.pictures.judged import BadPictureError, Picture
from putback.pictures.raster import KINDS, kind_of, read_raster
from putback.pictures.shapes import Drawn, drawn
from putback.source.late import Late
from putback.source.quoting import quote

DEEPEST = 200
"""Elements inside one another."""

MOST_ELEMENTS = 200_000
"""Elements of a file."""

MOST_LETTERS = 20_000
"""Letters of all texts of a file: ten pages of words. The press takes more than twice as long for twice as many."""

LINKS = ("http:", "https:", "mailto:", "#")
"""How the address of a link begins that does no harm."""

_TURNS = Late("[\u202a-\u202e\u2066-\u2069]")
_URL = Late(r"url\s*\(\s*['\"]?\s*([^'\")\s]*)", re.IGNORECASE)
NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
_LENGTH = Late(rf"\s*({NUMBER})\s*([a-zA-Z]*|%)\s*")
DATA = Late(r"data:\s*image/(png|jpe?g|gif|webp)\s*;\s*base64\s*,", re.IGNORECASE)
_AS_PATHS = "save it as plain SVG, with its effects turned into paths"


def read_svg(data: bytes) -> Picture:
    """Return what a drawing costs. Raises `BadPictureError`."""
    text = as_text(data)
    reading = Reading(ascii_only=text.isascii())
    reading.parse(text)
    return reading.picture()


def as_text(data: bytes) -> str:
    """Return the text of a drawing. Raises `BadPictureError`."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadPictureError("it is not UTF-8 text", "save it as plain SVG, in UTF-8") from None


class Reading:
    """Goes through the events of one file, and stops at the first thing that is refused."""

    def __init__(self, *, ascii_only: bool) -> None:
        self.ascii_only = ascii_only
        self.shapes: list[Drawn] = []
        self.styles: list[str] = []
        self.letters: set[str] = set()
        self.pixels = 0
        self.open: list[int] = []
        self.elements = 0
        self.length = 0
        self.passed = 0
        """So many elements are open of one that is passed over."""
        self.without: list[str] = []
        """What is passed over that could do something, each with its line."""
        parser = expat.ParserCreate("utf-8", " ")
        parser.buffer_text = True
        parser.XmlDeclHandler = self.declared
        parser.StartDoctypeDeclHandler = self.doctype
        parser.EntityDeclHandler = self.entity
        parser.ProcessingInstructionHandler = self.instruction
        parser.StartElementHandler = self.start
        parser.EndElementHandler = self.end
        parser.CharacterDataHandler = self.words
        self.parser = parser

    def parse(self, text: str) -> None:
        """Read a drawing. Raises `BadPictureError`."""
        try:
            self.parser.Parse(text.encode(), True)
        except expat.ExpatError as error:
            reason = expat.ErrorString(error.code) or "not well-formed"
            message = f"it is not a complete SVG: {reason}, on line {error.lineno}, column {error.offset + 1}"
            raise BadPictureError(message, "open it in a drawing program and save it again") from None

    def picture(self) -> Picture:
        """Return what the drawing costs. Raises `BadPictureError`."""
        shapes = drawn(self.shapes, "\n".join(self.styles))
        return Picture("SVG", self.pixels, shapes, "".join(sorted(self.letters)), tuple(self.without))

    def leave_out(self, what: str) -> None:
        """Note what is passed over."""
        self.without.append(f"{what}, on line {self.parser.CurrentLineNumber}")

    def refuse(self, message: str, hint: str | None = None) -> BadPictureError:
        """Return why the drawing is refused, with the line."""
        return BadPictureError(f"{message}, on line {self.parser.CurrentLineNumber}", hint)

    def declared(self, version: str, encoding: str | None, standalone: int) -> None:
        """Look at the encoding that a drawing claims."""
        del version, standalone
        if encoding and encoding.lower() not in ("utf-8", "utf8", "us-ascii", "ascii") and not self.ascii_only:
            raise self.refuse(f"it says that it is {encoding}, but it is UTF-8", "save it as plain SVG, in UTF-8")

    def doctype(self, name: str, system: str | None, public: str | None, internal: int) -> None:
        """Refuse declarations of a drawing's own."""
        del name, system, public
        if internal:
            raise self.refuse("it has declarations of its own ('<!DOCTYPE … [')", "save it as plain SVG")

    def entity(self, *facts: object) -> None:
        """Refuse an entity."""
        del facts
        raise self.refuse("it declares an entity", "save it as plain SVG")

    def instruction(self, target: str, words: str) -> None:
        """Refuse a style sheet that is loaded."""
        del words
        if target.lower().startswith("xml-"):
            raise self.refuse(f"it loads something else ('<?{target}')", "put the style in the drawing")

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """Look at an element and its attributes."""
        namespace, _, tag = name.rpartition(" ")
        self.elements += 1
        if self.elements > MOST_ELEMENTS:
            raise self.refuse(f"it has more than {MOST_ELEMENTS:,} elements", "make it simpler")
        if self.passed or (namespace == SVG and tag == "script" and self.open):
            if not self.passed:
                self.leave_out("a program ('script')")
            self.passed += 1
            return
        if not self.open:
            self.root(namespace, tag, attributes)
        if len(self.open) >= DEEPEST:
            raise self.refuse(f"its elements are nested more than {DEEPEST} deep", "flatten its groups")
        if namespace == XHTML:
            raise self.refuse(f"it contains a piece of a web page ({quote(tag)})")
        if namespace == SVG and tag not in KNOWN and tag not in FILTERS:
            raise self.refuse(self.why(tag), _AS_PATHS if tag.startswith(("fe", "flow", "foreign")) else None)
        shape = Drawn(tag if namespace == SVG else "", self.open[-1] if self.open else -1)
        for key, value in attributes.items():
            self.attribute(shape, key, value)
        self.open.append(len(self.shapes))
        self.shapes.append(shape)

    @staticmethod
    def why(tag: str) -> str:
        """Return why an element is refused."""
        if tag in WHY:
            return WHY[tag].format(tag)
        if tag.startswith("fe"):
            return f"it has a filter ({quote(tag)}) that can take for ever to draw"
        return f"it has an element {quote(tag)}, which is not known"

    def root(self, namespace: str, tag: str, attributes: dict[str, str]) -> None:
        """Look at the first element: a drawing that says a size that it can have."""
        if tag != "svg":
            raise self.refuse(f"it begins with {quote(tag)}, but a drawing begins with 'svg'")
        if namespace != SVG:
            raise self.refuse("browsers do not treat it as a drawing", f'write xmlns="{SVG}" in its first element')
        for key in ("width", "height"):
            found = _LENGTH.fullmatch(attributes.get(key, "1"))
            if attributes.get(key) != "auto" and (found is None or not 0 < float(found[1]) < 1e9):
                raise self.refuse(f"its {key} is {quote(attributes[key], 40)}, but must be a length above 0")
        box = attributes.get("viewBox")
        if box is not None:
            numbers = re.split(r"[\s,]+", box.strip())
            good = len(numbers) == 4 and all(re.fullmatch(NUMBER, number) for number in numbers)
            if not good or not all(0 < float(number) < 1e9 for number in numbers[2:]):
                raise self.refuse(f"its viewBox is {quote(box, 40)}, but must be four numbers, the last two above 0")

    def attribute(self, shape: Drawn, name: str, value: str) -> None:
        """Look at an attribute, and note what it draws."""
        namespace, _, key = name.rpartition(" ")
        if namespace not in ("", XLINK, XML):
            return
        if not namespace and key.lower().startswith("on"):
            self.leave_out(f"a program ({quote(key)})")
            return
        if namespace == XML and key == "base":
            raise self.refuse("it says that its addresses start from elsewhere ('xml:base')")
        if key == "href":
            self.address(shape, value.strip())
        elif not namespace:
            self.style(value)
            match key:
                case "id":
                    shape.key = value
                case "class":
                    shape.classes = frozenset(value.split())
                case "style":
                    shape.style += f";{value}"
                case "d" | "points":
                    shape.corners = len(value) // 4 + 1
                case _ if "url" in value.lower() or key == "filter":
                    shape.style = f"{key}:{value};{shape.style}"

    def address(self, shape: Drawn, value: str) -> None:
        """Look at where an element leads, or what it shows."""
        if shape.tag == "a":
            if value and not value.lower().startswith(LINKS):
                self.leave_out(f"a link to {quote(value, 60)}")
        elif shape.tag == "image" and (data := DATA.match(value)):
            self.pixels += self.inner(value[data.end() :])
        elif value.startswith("#"):
            shape.target = value[1:]
        elif value[:5].lower() == "data:":
            raise self.refuse("it contains a file that is not a PNG, JPEG, GIF or WebP picture", _AS_PATHS)
        elif value:
            raise self.refuse(
                f"it shows {quote(value, 60)}, which is not part of it", "embed that picture in the drawing"
            )

    def inner(self, packed: str) -> int:
        """Return how many pixels a picture in the drawing has."""
        try:
            data = base64.b64decode(re.sub(r"\s+", "", packed), validate=True)
        except (binascii.Error, ValueError):
            raise self.refuse("a picture in it is damaged") from None
        kind = kind_of(data)
        if kind not in KINDS:
            raise self.refuse("a picture in it is not a PNG, JPEG, GIF or WebP picture")
        try:
            return read_raster(data, kind).pixels
        except BadPictureError as error:
            raise self.refuse(f"a picture in it is refused: {error.message}", error.hint) from None

    def style(self, value: str) -> None:
        """Refuse what a style loads."""
        for address in _URL.findall(value):
            if not address.startswith("#"):
                raise self.refuse(f"its style loads {quote(address, 60)}", "put it in the drawing, or delete it")

    def end(self, name: str) -> None:
        """Close an element."""
        if self.passed:
            self.passed -= 1
            return
        shape = self.shapes[self.open.pop()]
        if shape.tag == "style":
            self.sheet(shape.words)
            shape.words = ""
        del name

    def sheet(self, words: str) -> None:
        """Look at a style sheet."""
        for sign, what in (
            ("@import", "loads another style sheet"),
            ("@font-face", "brings a font"),
            ("\\", "hides words"),
        ):
            if sign in words.lower():
                raise self.refuse(
                    f"its style {what} ('{sign}')", "save it as plain SVG, with its text turned into paths"
                )
        self.style(words)
        self.styles.append(words)

    def words(self, text: str) -> None:
        """Look at a text."""
        if self.passed:
            return
        if found := _TURNS.search(text):
            raise self.refuse(
                f"a text in it reverses the order of its letters (U+{ord(found[0]):04X})", "remove that character"
            )
        shape = self.shapes[self.open[-1]]
        if shape.tag == "style":
            shape.words += text
        elif any(self.shapes[at].tag == "text" for at in self.open):
            self.letters.update(text)
            shape.corners += len(text)
            self.length += len(text)
            if self.length > MOST_LETTERS:
                raise self.refuse(f"its texts have more than {MOST_LETTERS:,} letters", "make it simpler")
