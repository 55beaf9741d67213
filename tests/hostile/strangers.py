"""What a stranger could send, each with what must be said: `test_strangers.py` tries all, and the page on security lists them.

Each is put into a small good guide, `pump`, beside which are a library, `shared`, and a secret, `secret.txt`.
"""

# ruff: noqa: E501  # a row of a table is one line

from __future__ import annotations

import os
import socket
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import NamedTuple

from tests.conftest import MACHINE
from tests.pictures.samples import embedded, jpeg, laughs, png, svg, webp

SECRET = "SECRET-4711"
"""What must never be printed."""

Content = str | bytes | Callable[[Path], object]
"""The text of a file, its bytes, or what makes something at its path."""


class Tried(NamedTuple):
    """One hostile input."""

    files: Mapping[str, Content]
    """What is laid out, by its path beside `pump`."""
    code: int
    """The exit code."""
    says: str
    """Part of what is printed; for 0, part of the closing line."""
    args: tuple[str, ...] = ("lint", "pump")
    """The command."""


LOOK = "pump/jobs/look.yaml"
GOOD = "everything goes back"


def job(*steps: str) -> dict[str, Content]:
    """Return a job with these steps, each on one line."""
    return {LOOK: "job: Look\nsteps:\n" + "".join(f"  - {step}\n" for step in steps)}


def machine(more: str) -> dict[str, Content]:
    """Return the machine with more below."""
    return {"pump/machine.yaml": f"{MACHINE}{more}"}


def picture(name: str, content: Content) -> dict[str, Content]:
    """Return a picture, and a job that shows it."""
    return {f"pump/images/{name}": content, **job("inspect: lid", "note: x")} | {
        LOOK: f"job: Look\nsteps:\n  - inspect: lid\n    for: cracks\n    otherwise: [{{stop: Renew it.}}]\n    figure: {{image: {name}, alt: The lid.}}\n"
    }


def link(to: str) -> Callable[[Path], object]:
    """Return what makes a link."""
    return lambda path: path.symlink_to(to)


def hole(size: int) -> Callable[[Path], object]:
    """Return what makes a file of so many bytes that takes no room."""

    def make(path: Path) -> None:
        with path.open("wb") as file:
            file.truncate(size)

    return make


def listening(path: Path) -> None:
    """Make a socket."""
    here = Path.cwd()
    os.chdir(path.parent)  # the name of a socket is short
    try:
        with socket.socket(socket.AF_UNIX) as made:
            made.bind(path.name)
    finally:
        os.chdir(here)


def raw_name(name: bytes, text: str) -> Callable[[Path], object]:
    """Return what makes a file with these bytes for a name, beside the path."""
    return lambda path: Path(os.fsdecode(os.fsencode(path.parent) + b"/" + name)).write_text(text, encoding="utf-8")


def po(body: str) -> str:
    """Return a German catalogue."""
    return f'msgid ""\nmsgstr ""\n"Language: de\\n"\n"Content-Type: text/plain; charset=UTF-8\\n"\n\n{body}'


SENT = ("translate", "pump", "--to", "de", "--from", "sent.po")

TRIED: dict[str, Tried] = {
    # YAML
    "aliases that double nine times over": Tried({LOOK: "".join(f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]\n" for n in range(1, 10)).replace("*a0", "x")}, 1, "is an anchor"),
    "an alias to what it stands in": Tried({LOOK: "job: &j [*j]\n"}, 1, "'&j' is an anchor"),
    "a merge key": Tried(job("inspect: lid\n    <<: {for: cracks}"), 1, "'<<' is a merge key"),
    "a tag that makes an object of Python": Tried(job("inspect: !!python/object/apply:os.system [touch ran]"), 1, "'!!python/object/apply:os.system' is a tag"),
    "a tag of binary data": Tried(job("inspect: !!binary aGk="), 1, "'!!binary' is a tag"),
    "a directive that renames tags": Tried({LOOK: "%TAG ! tag:example.org,2020:\n---\njob: Look\n"}, 1, "a directive is not allowed here"),
    "a directive of another version": Tried({LOOK: "%YAML 9.9\n---\njob: Look\n"}, 2, "'%YAML 9.9' is a directive"),
    "two documents in a file": Tried({LOOK: "job: Look\n---\njob: Look\n"}, 1, "a second document starts here"),
    "lists 100,000 deep": Tried({LOOK: f"job: {'[' * 100_000}"}, 2, "nested more than 50 levels deep"),
    "mappings 500 deep": Tried({LOOK: "".join(f"{' ' * n}a:\n" for n in range(500))}, 2, "nested more than 50 levels deep"),
    "5,000 parts": Tried({"pump/machine.yaml": MACHINE.replace("  lid: {}\n", "  lid: {}\n" + "".join(f"  p{n}: {{}}\n" for n in range(5_000)))}, 0, GOOD),
    "a file of 5,000,000 bytes": Tried({LOOK: "#" * 5_000_000}, 2, "at most 4,000,000 can be read"),
    "a file of 1 TB that takes no room": Tried({LOOK: hole(1 << 40)}, 2, "at most 4,000,000 can be read"),
    "a number of 1,000,000 digits": Tried(machine("").fromkeys(["pump/machine.yaml"], MACHINE.replace("count: 4", f"count: {'9' * 1_000_000}")), 1, "must be a whole number"),
    "a number in floating point that is none": Tried({"pump/machine.yaml": MACHINE.replace("count: 4", "count: .nan")}, 1, "must be a whole number"),
    "a torque of 1e999999": Tried({"pump/machine.yaml": MACHINE.replace("4 N·m", "1e999999 N·m")}, 1, "'1e999999 N·m' has the unknown unit of torque"),
    "a NUL in the middle": Tried({LOOK: b"job: Lo\x00ok\n"}, 2, "there is a control character (U+0000 NUL)"),
    "UTF-16": Tried({LOOK: "job: Look\n".encode("utf-16")}, 2, "the file is not UTF-8 text"),
    "UTF-32 with a mark": Tried({LOOK: "job: Look\n".encode("utf-32")}, 2, "the file is not UTF-8 text"),
    "two byte order marks": Tried({LOOK: b"\xef\xbb\xbf\xef\xbb\xbfjob: Look\n"}, 1, "'steps' is missing"),
    "half a surrogate as bytes": Tried({LOOK: b"job: \xed\xa0\x80\n"}, 2, "the file is not UTF-8 text"),
    "half a surrogate as an escape": Tried({LOOK: 'job: "\\ud800"\n'}, 2, "is not a valid escape"),
    "lines that end in CR alone": Tried({LOOK: b"job: Look\rsteps:\r  - inspect: lid\r    note: Look for cracks.\r"}, 0, GOOD),
    "tabs for indents": Tried({LOOK: "job: Look\nsteps:\n\t- inspect: lid\n"}, 2, "a tab is used to indent"),
    "a key twice": Tried({LOOK: "job: Look\njob: Look\nsteps: [{inspect: lid}]\n"}, 1, "a second time"),
    "a key that is a list": Tried({LOOK: "? [a, b]\n: x\njob: Look\n"}, 1, "a key must be a plain name, not a list or a mapping"),
    "an empty file": Tried({LOOK: ""}, 1, "the file is empty"),
    # names and texts
    "a part called __proto__": Tried(machine("").fromkeys(["pump/machine.yaml"], MACHINE.replace("lid: {}", "lid: {}\n  __proto__: {}\n  constructor: {}")), 1, "'__proto__' is not a valid name"),
    "a job called constructor": Tried({"pump/jobs/constructor.yaml": "job: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n"}, 0, GOOD),
    "a job called like a device of Windows": Tried({"pump/jobs/CON.yaml": "job: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n"}, 0, GOOD),
    "a part called ../../x": Tried({"pump/machine.yaml": MACHINE.replace("lid: {}", "lid: {}\n  ../../x: {}")}, 1, "'../../x' is not a valid name"),
    "a name of 100,000 letters": Tried({"pump/machine.yaml": MACHINE.replace("lid: {}", f"lid: {{}}\n  {'x' * 100_000}: {{}}")}, 2, "a ':' with a space after it is expected"),
    "letters that look alike": Tried(job("inspect: l\u0456d\n    note: x"), 1, "nothing is called"),
    "a name in two forms of Unicode": Tried({"pump/machine.yaml": MACHINE.replace("lid: {}", "lid: {}\n  \u00e9: {}\n  e\u0301: {}")}, 1, "'\u00e9' is not a valid name"),
    "words that turn the direction of reading": Tried(job("note: M8 \u202e021"), 2, "U+202E"),
    "an escape for the terminal": Tried(job('note: "\\e[2J"'), 1, "there is a control character (U+001B escape)"),
    "a command to a CI platform as a name": Tried({"pump/machine.yaml": MACHINE.replace("lid: {}", "lid: {name: '::add-mask::x'}"), **job("remove: lid")}, 1, "\\x3a:add-mask::x"),
    "a command to a CI platform in a line": Tried(job("remove: '##vso[task.setvariable variable=PATH]x'"), 1, "#\\x23vso[task.setvariable"),
    "an expression for a condition": Tried(job("inspect: lid\n    note: x\n    when: {__import__('os'): system}"), 1, "no option is called"),
    "a waiver of every check": Tried({"pump/guide.yaml": "title: x\nwaive: {'*': trust me}\n"}, 1, "'*' is not a valid name"),
    "a waiver of a file outside": Tried({"pump/guide.yaml": "title: x\nwaive: {unread-file: trust me}\n", LOOK: link("../../secret.txt")}, 2, "'unread-file' cannot be waived"),
    # files
    "a job that is a link to a secret": Tried({LOOK: link("../../secret.txt")}, 2, "this is a link that leads outside the guide"),
    "a machine file that is a link to /etc/passwd": Tried({"pump/machine.yaml": link("/etc/passwd")}, 2, "this is a link that leads outside the guide"),
    "a page that is a link to a secret": Tried({"pump/page.md": link("../secret.txt")}, 2, "this is a link that leads outside the guide"),
    "a catalogue that is a link to a secret": Tried({"pump/translations/de.po": link("../../secret.txt")}, 2, "this is a link that leads outside the guide"),
    "a file of the library that is a link to a secret": Tried({"shared/hazards.yaml": link("../secret.txt")}, 2, "this is a link that leads outside the library"),
    "a folder of jobs that is a link": Tried({"pump/jobs": link("../elsewhere"), "elsewhere/x.yaml": SECRET}, 2, "this is a link that leads outside the guide"),
    "a folder of translations that is a link": Tried({"pump/translations": link("../elsewhere"), "elsewhere/de.po": SECRET}, 2, "this is a link that leads outside the guide"),
    "a link to a guide elsewhere": Tried({"here/pump/guide.yaml": "title: x\n", "here/pump/machine.yaml": MACHINE, "here/other": link("../pump")}, 2, "it is a link that leads elsewhere", ("lint", "here")),
    "a link to itself": Tried({LOOK: link("look.yaml")}, 2, "a link that leads back to itself"),
    "a folder that is a link to all above": Tried({"pump/jobs/up": link("../../..")}, 0, GOOD),
    "a job that is a folder": Tried({"pump/jobs/strip.yaml": os.mkdir}, 2, "it is a folder"),
    "a job that is a pipe without a writer": Tried({LOOK: os.mkfifo}, 2, "it is a named pipe"),
    "a job that is a socket": Tried({"pump/jobs/s.yaml": listening}, 2, "it is a socket"),
    "a job that is a link to an endless device": Tried({LOOK: link("/dev/zero")}, 2, "this is a link that leads outside the guide"),
    "a job that is a link to the memory of the process": Tried({LOOK: link("/proc/self/environ")}, 2, "this is a link that leads outside the guide"),
    "a name with a line feed and an escape": Tried({"pump/jobs/x": raw_name(b"a\n::error::\x1b[2J.yaml", "x: [")}, 2, "a\\x0a::error::\\x1b[2J.yaml"),
    "a name that is no UTF-8": Tried({"pump/jobs/x": raw_name(b"\xff.yaml", "x: [")}, 2, "\\xff.yaml"),
    "names that differ in capitals": Tried({"pump/jobs/Look.yaml": "job: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n"}, 0, GOOD),
    # pictures
    "a drawing with a program": Tried(picture("a.svg", svg("<script>x()</script><rect width='9' height='9'/>")), 0, "has a program ('script')"),
    "a drawing with a page in it": Tried(picture("a.svg", svg("<foreignObject><b>x</b></foreignObject>")), 1, "it contains a page of its own ('foreignObject')"),
    "a drawing that loads a file": Tried(picture("a.svg", svg("<image width='9' height='9' href='file:///etc/passwd'/>")), 1, "which is not part of it"),
    "a drawing that loads from the network": Tried(picture("a.svg", svg("<image width='9' height='9' href='https://127.0.0.1:9/x'/>")), 1, "which is not part of it"),
    "a drawing with an entity of a file": Tried(picture("a.svg", '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>' + svg("<text>&x;</text>")), 1, "it has declarations of its own"),
    "a billion laughs": Tried(picture("a.svg", '<!DOCTYPE svg [<!ENTITY a "ha">' + "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 10)).replace("&a0;", "&a;") + "]>" + svg("<text>&a9;</text>")), 1, "it has declarations of its own"),
    "a billion shapes by repetition": Tried(picture("a.svg", laughs(10, 10)), 1, "it draws 6,802,469,125 shapes; the limit is 200,000"),
    "a drawing of 1e300 by 1e300": Tried(picture("a.svg", svg("<path d='M0 0h1'/>", 'viewBox="0 0 1e300 1e300"')), 1, "must be four numbers, the last two above 0"),
    "a drawing in a drawing in a drawing": Tried(picture("a.svg", embedded(embedded(b"<svg/>", "svg+xml").encode(), "svg+xml")), 1, "it contains a file that is not a PNG, JPEG, GIF or WebP picture"),
    "a photograph of 60,000 by 60,000": Tried(picture("a.png", png(60_000, 60_000, rows=1)), 1, "60,000 by 60,000 pixels"),
    "a photograph that is cut off": Tried(picture("a.png", png(50, 50)[:60]), 1, "it is cut off"),
    "a JPEG that says 65,500 by 65,500": Tried(picture("a.jpg", jpeg(65_500, 65_500)), 1, "65,500 by 65,500 pixels"),
    "a WebP that is called a PNG": Tried(picture("a.png", webp(9, 9)), 1, "it is a WebP file, but its name ends in .png"),
    "a page of HTML that is called a JPEG": Tried(picture("a.jpg", "<script>x()</script>"), 1, "it is not a JPEG file"),
    "a picture above the guide": Tried(picture("../../secret.svg", svg("")), 1, "is outside the guide's images/"),
    "a picture with an absolute name": Tried(picture("/etc/passwd.png", b""), 1, "is outside the guide's images/"),
    "a picture with a name of another computer": Tried(picture("//127.0.0.1/share/a.png", b""), 1, "is outside the guide's images/"),
    # catalogues
    "a catalogue with a field that reads memory": Tried({"pump/translations/de.po": po('msgctxt "machine.things.lid.name"\nmsgid "lid"\nmsgstr "{0.__class__} {x}"\n')}, 1, "the translation says '0', but the text does not"),
    "a catalogue with markup": Tried({"sent.po": po('msgctxt "machine.things.lid.name"\nmsgid "lid"\nmsgstr "<script>x()</script>"\n')}, 0, "is written: 8 texts", SENT),
    "a catalogue of another guide": Tried({"sent.po": po('msgctxt "x"\nmsgid "Stop ::error:: y"\nmsgstr "x"\n')}, 1, "not in this guide: x: 'Stop ::error:: y'", SENT),
    "a catalogue that is cut off": Tried({"sent.po": 'msgid "a'}, 2, "this text has no quote at its end", SENT),
    "a catalogue of 5,000,000 bytes": Tried({"sent.po": "#" * 5_000_000}, 2, "at most 4,000,000 can be read", SENT),
    "a catalogue that is a pipe": Tried({"sent.po": os.mkfifo}, 2, "it is a named pipe", SENT),
    "a plural form that is a program": Tried({"sent.po": po("").replace("Content-Type", "Plural-Forms: nplurals=2; plural=__import__('os').system('touch ran');\\n\"\n\"Content-Type")}, 0, "8 not translated", SENT),
    "a language that is a path": Tried({}, 2, "is no tag of a language", ("translate", "pump", "--to", "../../x")),
    # places to write to
    "a list over a file of the guide": Tried({}, 2, "is there and is no list of supplies", ("supplies", "pump", "--format", "csv", "--out", "pump/guide.yaml")),
    "a list over a pipe": Tried({"list.csv": os.mkfifo}, 2, "is there and is no list of supplies", ("supplies", "pump", "--format", "csv", "--out", "list.csv")),
    "a manual over a link": Tried({"pump/index.md": "# x\n", "out": link("secret.txt")}, 2, "Directory 'out' is a file", ("build", "pump", "--to", "html", "--out", "out")),
    "a manual into the guide": Tried({"pump/index.md": "# x\n"}, 2, "is in the guide 'pump'", ("build", "pump", "--to", "html", "--out", "pump/jobs")),
    "a new guide over a link": Tried({"mine": link("secret.txt")}, 2, "is a link; nothing was written", ("new", "mine")),
    "schemas over a link": Tried({"pump/.schema": link("../elsewhere")}, 2, "it is a link", ("schema", "pump")),
}  # fmt: skip
