"""What all guides share: cautions, hazards, tools, consumables, aids and blocks."""

from __future__ import annotations

from collections.abc import Mapping as MappingABC
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from putback.guide.folders import Stray, choose, yaml_below
from putback.guide.slips import is_library
from putback.joints.friction import Film
from putback.model.job import Block
from putback.model.library import Aid, Consumable, Hazard, SafetyMessage, Tool
from putback.model.reading import Reader, entries
from putback.model.terms import Signal
from putback.source.finding import Also, Finding, Level
from putback.source.intake import Disk, NotReadError, Store, resolved
from putback.source.load import Mapping, Node, Text, load
from putback.source.plainly import printable
from putback.source.schema import FileKind, review, shipped
from putback.source.span import Span
from putback.units import Kind

FILES: dict[str, FileKind] = {
    "cautions": FileKind.CAUTIONS,
    "hazards": FileKind.HAZARDS,
    "tools": FileKind.TOOLS,
    "consumables": FileKind.CONSUMABLES,
    "aids": FileKind.AIDS,
}
"""The library's files, without `.yaml`, and what kind each is."""


def folder_for(guide: Path) -> Path:
    """Return the library's folder for a guide.

    The nearest `shared` above the guide with one of the library's files in it; where there is none, the one
    that comes with Putback.
    """
    return find_library(guide, Disk())[0]


def find_library(guide: Path, store: Store) -> tuple[Path, list[Stray]]:
    """Return the library's folder for a guide, and what lies on the way to it and looks like a library.

    A `shared` that cannot be listed is the library, and nothing is in it.
    """
    strays: list[Stray] = []
    for parent in resolved(guide).parents:
        # On a disk that knows no capitals, the first of them finds the folder whatever its name.
        for name in ("shared", "Shared", "SHARED"):
            folder = parent / name
            if not store.is_there(folder):
                continue
            try:
                names = store.names(folder)
            except NotReadError as error:
                return folder, [*strays, Stray(folder, f"the library cannot be read: {error}", unread=True)]
            if is_library(names, FILES):
                if name != "shared":
                    strays.append(Stray(folder, "nothing in this folder is read", "name it 'shared'"))
                return folder, strays
            if "blocks" in names and next(yaml_below(folder / "blocks", [], store), None):
                message = "nothing in this folder is read: there is no file of a library beside it"
                hint = "copy the library that comes with Putback beside it"
                strays.append(Stray(folder / "blocks", message, hint))
    return shipped("shared"), strays


@dataclass(slots=True)
class Shelf:
    """The entries of one folder, with what was wrong with them."""

    cautions: dict[str, SafetyMessage] = field(default_factory=dict)
    hazards: dict[str, Hazard] = field(default_factory=dict)
    tools: dict[str, Tool] = field(default_factory=dict)
    consumables: dict[str, Consumable] = field(default_factory=dict)
    aids: dict[str, Aid] = field(default_factory=dict)
    files: list[str] = field(default_factory=list)
    broken: set[str] = field(default_factory=set)
    unlisted: set[str] = field(default_factory=set)
    doubtful: set[tuple[str, str]] = field(default_factory=set)
    faults: list[Finding] = field(default_factory=list)
    unread: set[str] = field(default_factory=set)
    """The files that could not be read at all, as shown."""
    mended: set[str] = field(default_factory=set)
    """The files with misspelt words that were read as they were meant, as shown."""
    strays: list[Stray] = field(default_factory=list)
    """Files that look like those of a library."""

    @property
    def unreadable(self) -> bool:
        """Whether a file could not be read at all."""
        return bool(self.unread)


def read_shelf(folder: Path, shown: str, store: Store | None = None) -> Shelf:
    """Read the library files of one folder; a file that is not there is no fault."""
    shelf, store = Shelf(), store or Disk()
    try:
        found = choose(folder, store.names(folder), FILES, store)
    except NotReadError:  # told where the folder was looked for
        return shelf
    shelf.strays = found.strays
    for name, kind in FILES.items():
        path = found.files.get(name)
        if path is None:
            continue
        file = printable(path.name)
        loaded = load(path, f"{shown}/{file}" if shown not in ("", ".") else file, store)
        shelf.files.append(loaded.path)
        shelf.faults += loaded.faults
        if loaded.unreadable:
            shelf.unread.add(loaded.path)
        faults, root = review(loaded, kind)
        shelf.faults += faults
        if faults and root:
            shelf.mended.add(loaded.path)
        _take(shelf, name, loaded.root if root is None and not loaded.faults else root, [] if root else faults)
    return shelf


def _take(shelf: Shelf, name: str, root: Node | None, faults: list[Finding]) -> None:
    """Shelve the entries of a file; of those that a fault is in, only the names are known."""
    one = name.removesuffix("s")
    if not isinstance(root, Mapping):
        shelf.broken.add(one)
        shelf.unlisted.add(one)
        return
    faulty = [key.value for key, value in entries(root) if any(_is_in(fault.span, key, value) for fault in faults)]
    shelf.doubtful |= {(one, key) for key in faulty}
    if faults and not faulty:
        shelf.unlisted.add(one)
    # What a caution is not known to answer is looked at where it stands; of the others, any may be missed anywhere.
    if shelf.unlisted & {one} or (faulty and one != "caution"):
        shelf.broken.add(one)
    reader = Reader()
    for key, value in entries(root):
        if key.value not in faulty and not shelf.unlisted & {one}:
            facts = value if isinstance(value, Mapping) else Mapping({}, value.span)
            _shelve(shelf, reader, name, key, facts)
    shelf.faults += reader.faults
    if reader.faults:
        shelf.broken.add(one)


def _is_in(span: Span, key: Text, value: Node) -> bool:
    """Tell whether a place is in an entry."""
    start, end = key.span[1:3], value.span[3:5]
    return start <= span[1:3] <= max(end, key.span[3:5])


def _shelve(shelf: Shelf, reader: Reader, name: str, key: Text, facts: Mapping) -> None:
    label = reader.text(facts.get("name")) or key.value.replace("-", " ")
    match name:
        case "cautions":
            shelf.cautions[key.value] = SafetyMessage(
                key=key.value,
                span=key.span,
                name=label,
                signal=Signal(reader.text(facts.get("signal")) or ""),
                hazard=reader.text(facts.get("hazard")) or "",
                consequence=reader.text(facts.get("consequence")) or "",
                avoid=reader.texts(facts.get("avoid")),
                covers=reader.refs(facts.get("covers")),
                wear=reader.texts(facts.get("wear")),
                signal_span=signal.span if (signal := facts.get("signal")) else None,
                sentences=tuple(
                    (part, ref) for part in ("hazard", "consequence", "avoid") for ref in reader.refs(facts.get(part))
                ),
            )
        case "hazards":
            shelf.hazards[key.value] = Hazard(
                key=key.value,
                span=key.span,
                name=label,
                least=Signal(reader.text(facts.get("least")) or ""),
                verbs=reader.texts(facts.get("verbs")),
                tags=reader.texts(facts.get("tags")),
                wear=reader.texts(facts.get("wear")),
                gone_when=reader.needs(facts.get("gone-when")),
                while_=reader.needs(facts.get("while")),
                mass=reader.quantity(facts.get("mass"), Kind.MASS),
                licensed=reader.flag(facts.get("licensed")),
                waste=reader.text(facts.get("waste")),
            )
        case "tools":
            shelf.tools[key.value] = Tool(
                key=key.value,
                span=key.span,
                name=label,
                range=reader.quantity(facts.get("range"), Kind.TORQUE),
                step=reader.quantity(facts.get("step"), Kind.TORQUE),
                lever=reader.quantity(facts.get("lever"), Kind.LENGTH),
                extends=reader.quantity(facts.get("extends"), Kind.LENGTH),
                drives=reader.texts(facts.get("drives")),
            )
        case "consumables":
            shelf.consumables[key.value] = Consumable(
                key=key.value,
                span=key.span,
                name=label,
                tags=reader.refs(facts.get("tags")),
                threads=Film(words) if (words := reader.text(facts.get("threads"))) else None,
            )
        case "aids":
            shelf.aids[key.value] = Aid(
                key=key.value, span=key.span, name=label, bears=reader.quantity(facts.get("bears"), Kind.MASS)
            )


_E = TypeVar("_E", SafetyMessage, Hazard, Tool, Consumable, Aid, Block)


def merged(shared: MappingABC[str, _E], own: MappingABC[str, _E], faults: list[Finding]) -> dict[str, _E]:
    """Return both together; a name that stands in both is a fault of the guide's own."""
    result = dict(shared)
    for name, entry in own.items():
        if name in shared:
            faults.append(
                Finding(
                    "same-name",
                    Level.ERROR,
                    entry.span,
                    f"'{name}' stands in this guide and in the shared library",
                    also=(Also(shared[name].span, f"'{name}' in the shared library"),),
                    hint="use the shared one, or give this one another name",
                )
            )
        result[name] = entry
    return result
