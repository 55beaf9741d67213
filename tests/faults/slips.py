"""Slips of the pen: what goes wrong while a file is typed, once at each place where it can.

The seeded faults of `seeding` are what an author forgets; these are what he mistypes. One slip should give one finding.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple
from zlib import crc32

from putback.guide.known_names import Names
from putback.guide.library import FILES, folder_for
from putback.guide.names import uses_of
from putback.guide.paths import shown_path
from putback.guide.reading import read_guide
from putback.lint.run import check_guide
from putback.source.finding import Finding
from putback.source.load import Listing, Mapping, Node, Text, load_text
from putback.source.span import Span
from putback.units import QuantityError, parse_any

NAMED_BY_AUTHORS = {"options", "controls", "parts", "fasteners", "lines", "fluids"}
"""Keys of the machine file under which names are given."""
NO_WORDS = {
    "needs", "can-start", "results-in", "when", "exclude", "safe-when", "while", "access-after", "waive", "length"
}  # fmt: skip
"""Keys under which keys are uses of names, which are tried as such."""
CHOICES = {
    "signal",
    "signal-at-least",
    "grip",
    "turn",
    "condition",
    "releases-when",
    "verbs",
    "units",
    "threads",
    "material",
}
"""Keys whose value is one of a few words."""
QUANTITIES = {
    "mass", "torque", "stages", "length", "volume", "time", "range", "step", "lever", "extends", "rated-load",
    "engagement",
    "retighten-after", "reach", "height", "to-reach", "to-height", "twist", "wait", "for", "angle",
}  # fmt: skip
"""Keys whose value is a quantity."""

MOST = 3
"""Findings that one slip may give."""

NOT_A_SLIP = {
    "misspelt tag": "no hazard need have the tag",
    "line twice": "what is done twice may do no harm",
    "misspelt choice": "a condition may be plain words",
    "name misspelt where it is given": "this guide need not use it",
    "one blank too many before it": "a line of a longer text may stand further in",
    "one blank too few before it": "a line of a longer text may stand further out",
    "a level too far out": "a line of a longer text may stand further out",
    "dash lost": "two lines of text may be one",
    "value lost": "a text may go on in the next line",
}
"""Kinds that need not be wrong at every place, each with the reason."""

_QUANTITY = re.compile(r"(\d+(?:\.\d+)?) [^\d\s].*")
_KEY = re.compile(r"( *(?:- )*)([a-z][a-z-]*)(:)(?= |$)")


class Slip(NamedTuple):
    """One slip, in one file."""

    kind: str
    """What sort of slip."""
    path: Path
    """The file."""
    line: int
    """The line that it is made in."""
    text: str
    """The whole file with the slip."""
    word: str
    """What was written."""


def misspelt(word: str, salt: str = "") -> str:
    """Return a word with one slip: two letters in each other's place, one left out, or one twice."""
    places = [n for n in range(1, len(word) - 1) if word[n].isalnum() and word[n + 1].isalnum()]
    if not places:
        return f"{word}{word[-1:]}"
    n = places[crc32(f"{word}{salt}".encode()) % len(places)]
    if word[n] != word[n + 1]:
        return f"{word[:n]}{word[n + 1]}{word[n]}{word[n + 2 :]}"
    return f"{word[:n]}{word[n + 1 :]}"


def files_of(folder: Path) -> Iterator[Path]:
    """Yield the files of a guide that can be typed wrongly, and the shared library's."""
    yield from (folder / "guide.yaml", folder / "machine.yaml")
    for part in ("jobs", "blocks"):
        yield from sorted((folder / part).glob("*.yaml"))
    for place in (folder, folder_for(folder)):
        yield from (path for name in FILES if (path := place / f"{name}.yaml").is_file())


def slips_of(folder: Path) -> Iterator[Slip]:
    """Yield every slip that is tried on a guide."""
    guide = read_guide(folder)
    names = Names(guide.machine, guide.library)
    uses = {use.ref.span: use.kinds[0] for use in uses_of(guide)}
    known = {name for by_kind in names.kind.values() for name in by_kind}
    for path in files_of(folder):
        text = path.read_text(encoding="utf-8")
        yield from _of_file(path, text, uses, known)


def _of_file(path: Path, text: str, uses: dict[Span, str], known: set[str]) -> Iterator[Slip]:
    shown = shown_path(path)
    loaded = load_text(text, shown)
    lines = text.split("\n")
    assert isinstance(loaded.root, Mapping)

    def put(kind: str, span: Span, word: str) -> Slip:
        line = lines[span.line - 1]
        changed = f"{line[: span.column - 1]}{word}{line[span.end_column - 1 :]}"
        return Slip(kind, path, span.line, "\n".join([*lines[: span.line - 1], changed, *lines[span.line :]]), word)

    library = path.stem in FILES
    for above, key, node in _texts(loaded.root):
        span, written = node.span, node.value
        if span.line != span.end_line or len(written) < 3:
            continue
        wrong = misspelt(written)
        if key:
            if (library and not above) or (len(above) == 1 and above[0] in NAMED_BY_AUTHORS and not library):
                yield put("name misspelt where it is given", span, wrong)
            elif span in uses:
                yield put(f"misspelt name of a {uses[span]}", span, wrong)
            elif not set(above) & NO_WORDS:
                yield put("misspelt key", span, wrong)
        elif span in uses:
            if written in known or uses[span] in ("position", "choice", "step", "end"):
                yield put(f"misspelt name of a {uses[span]}", span, wrong)
        elif above and above[-1] in CHOICES:
            yield put("misspelt choice", span, wrong)
        elif above and above[-1] == "tags":
            yield put("misspelt tag", span, wrong)
        elif above[-1] in QUANTITIES and (found := _QUANTITY.fullmatch(written)):
            yield put("number without unit", span, found[1])
            wrong = f"{found[1]} {misspelt(written[len(found[1]) + 1 :])}"
            if not _is_quantity(wrong):
                yield put("misspelt unit", span, wrong)
    yield from _of_lines(path, lines)


def _is_quantity(text: str) -> bool:
    try:
        parse_any(text)
    except QuantityError:
        return False
    return True


def _of_lines(path: Path, lines: list[str]) -> Iterator[Slip]:
    for number, line in enumerate(lines, 1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue

        def put(kind: str, *changed: str, number: int = number) -> Slip:
            return Slip(kind, path, number, "\n".join([*lines[: number - 1], *changed, *lines[number:]]), changed[0])

        yield put("one blank too many before it", f" {line}")
        if line.startswith(" "):
            yield put("one blank too few before it", line[1:])
            yield put("a level too far out", line[2:])
            yield put("a tab before it", f"\t{line.lstrip()}")
        if key := _KEY.match(line):
            yield put("missing colon", f"{line[: key.start(3)]}{line[key.end(3) :]}")
            if line[key.end(3) :].strip():
                yield put("value lost", line[: key.end(3)])
                yield put("no blank behind the colon", f"{line[: key.end(3)]}{line[key.end(3) + 1 :]}")
            yield put("line twice", line, line)
        if line.lstrip().startswith("- "):
            yield put("no blank behind the dash", line.replace("- ", "-", 1))
            yield put("dash lost", line.replace("- ", "  ", 1))
        if line.rstrip().endswith(("]", "}")):
            yield put("bracket lost", line.rstrip()[:-1])


def _texts(node: Node, above: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], bool, Text]]:
    """Yield every key and value with the keys above it, and whether it is a key."""
    match node:
        case Mapping(entries=entries):
            for name, pair in entries.items():
                yield above, True, pair.key
                yield from _texts(pair.value, (*above, name))
        case Listing(items=items):
            for item in items:
                yield from _texts(item, above)
        case _:
            yield above, False, node


def sample_of(folder: Path, each: int) -> list[Slip]:
    """Return some slips of each kind, spread over all files of a guide."""
    kinds: dict[str, list[Slip]] = {}
    for slip in slips_of(folder):
        kinds.setdefault(slip.kind, []).append(slip)
    return [slip for slips in kinds.values() for slip in slips[:: max(1, -(-len(slips) // each))]]


def findings_of_slip(folder: Path, slip: Slip) -> list[Finding]:
    """Check a guide with a slip in it."""
    return findings_of_slips(folder, (slip,))


def findings_of_slips(folder: Path, slips: tuple[Slip, ...]) -> list[Finding]:
    """Check a guide with slips in different files of it."""
    return check_guide(folder, {slip.path.resolve(): slip.text for slip in slips})[1]
