"""What all guides share: cautions, hazards, tools, consumables, equipment and blocks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields, replace
from functools import lru_cache
from pathlib import Path
from typing import TypeVar

from putback.guide.folders import Stray, choose, yaml_below
from putback.guide.gathered import Gathered, Parts
from putback.guide.slips import is_library
from putback.model.build_library import (
    build_caution,
    build_consumable,
    build_entries,
    build_equipment,
    build_hazard,
    build_tool,
)
from putback.model.job import Block
from putback.model.library import Consumable, Equipment, Hazard, SafetyMessage, Tool
from putback.model.reading import Reader
from putback.model.sealed import seal
from putback.source.finding import Also, Finding, Level
from putback.source.grammar import listed
from putback.source.intake import Disk, Memory, NotReadError, Store, resolved
from putback.source.plainly import printable
from putback.source.schema import FileKind, shipped
from putback.source.span import Span
from putback.source.tree import Mapping as Tree
from putback.source.tree import Node, Text

FILES: dict[str, FileKind] = {
    "cautions": FileKind.CAUTIONS,
    "hazards": FileKind.HAZARDS,
    "tools": FileKind.TOOLS,
    "consumables": FileKind.CONSUMABLES,
    "equipment": FileKind.EQUIPMENT,
}
"""The library's files, without `.yaml`, and what kind each is."""


Entry = TypeVar("Entry", SafetyMessage, Hazard, Tool, Consumable, Equipment, Block)
"""One entry of the library."""


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
                message = "nothing in this folder is read: there are no library files in it"
                hint = "copy the library that comes with Putback beside it"
                strays.append(Stray(folder / "blocks", message, hint))
    return shipped("shared"), strays


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """The entries of one folder, with what was wrong with them."""

    cautions: Mapping[str, SafetyMessage] = field(default_factory=dict)
    """Safety messages, by name."""
    hazards: Mapping[str, Hazard] = field(default_factory=dict)
    """Hazards, by name."""
    tools: Mapping[str, Tool] = field(default_factory=dict)
    """Tools, by name."""
    consumables: Mapping[str, Consumable] = field(default_factory=dict)
    """Consumables, by name."""
    equipment: Mapping[str, Equipment] = field(default_factory=dict)
    """Equipment, by name."""
    broken: frozenset[str] = frozenset()
    """Kinds of entries of which a file could not be used."""
    unlisted: frozenset[str] = frozenset()
    """Kinds of which not even all names are known."""
    doubtful: frozenset[tuple[str, str]] = frozenset()
    """Entries with a fault of shape, by kind and name."""
    files: tuple[str, ...] = ()
    """Every file read, as shown."""
    faults: tuple[Finding, ...] = ()
    """What was wrong with the files."""
    unread: frozenset[str] = frozenset()
    """The files that could not be read at all, as shown."""
    mended: frozenset[str] = frozenset()
    """The files with misspelt words that were read as they were meant, as shown."""
    strays: tuple[Stray, ...] = ()
    """Files that look like those of a library."""

    def __post_init__(self) -> None:
        """Shut what could be written into."""
        seal(self, *FILES)

    @property
    def unreadable(self) -> bool:
        """Whether a file could not be read at all."""
        return bool(self.unread)


def read_shelf(folder: Path, shown: str, store: Store | None = None) -> Shelf:
    """Read the library files of one folder; a file that is not there is no fault."""
    store = store or Disk()
    try:
        found = choose(folder, store.names(folder), FILES, store)
    except NotReadError:  # told where the folder was looked for
        return Shelf()
    try:
        files = tuple((name, path, store.read(path)) for name, path in found.files.items())
    except NotReadError:  # told where the file is loaded
        shelf = _read(shown, found.files, store)
    else:
        shelf = _read_again(shown, files)
    return replace(shelf, strays=tuple(found.strays))


@lru_cache(maxsize=4)
def _read_again(shown: str, files: tuple[tuple[str, Path, bytes], ...]) -> Shelf:
    """Read files of this content: once for all guides that share them."""
    return _read(shown, {name: path for name, path, _ in files}, Memory({path: data for _, path, data in files}))


def _read(shown: str, files: Mapping[str, Path], store: Store) -> Shelf:
    reader = _ShelfReader(shown, files, store)
    return Shelf(
        cautions=reader.entries("cautions", build_caution),
        hazards=reader.entries("hazards", build_hazard),
        tools=reader.entries("tools", build_tool),
        consumables=reader.entries("consumables", build_consumable),
        equipment=reader.entries("equipment", build_equipment),
        broken=frozenset(reader.broken),
        unlisted=frozenset(reader.unlisted),
        doubtful=frozenset(reader.doubtful),
        **reader.gathered.as_read(),
    )


class _ShelfReader:
    """Reads the library files of one folder."""

    def __init__(self, shown: str, files: Mapping[str, Path], store: Store) -> None:
        self.shown = "" if shown in ("", ".") else f"{shown}/"
        self.found = files
        self.store = store
        self.gathered = Gathered()
        self.broken: set[str] = set()
        self.unlisted: set[str] = set()
        self.doubtful: set[tuple[str, str]] = set()

    def entries(self, name: str, build: Callable[[Reader, Text, Tree], Entry]) -> dict[str, Entry]:
        """Return the entries of one file; none when it is not there or cannot be used."""
        path = self.found.get(name)
        if path is None:
            return {}
        kind = name.removesuffix("s")
        parts = self.gathered.load_parts(path, f"{self.shown}{printable(path.name)}", FILES[name], self.store)
        root = parts.root or self.good_part(kind, parts)
        if root is None:
            self.broken.add(kind)
            self.unlisted.add(kind)
            return {}
        found, faults = build_entries(root, build)
        self.gathered.faults += faults
        if faults:
            self.broken.add(kind)
        return found

    def good_part(self, kind: str, parts: Parts) -> Tree | None:
        """Return the entries without a fault of shape, and note the names of the others; None when they are not known.

        What a caution is not known to answer is looked at where it stands. Of the others, any may be missed anywhere.
        """
        if parts.rest is None:
            return None
        faulty = {
            name
            for name, (key, value) in parts.rest.entries.items()
            if any(_is_in(fault.span, key, value) for fault in parts.faults)
        }
        if not faulty:
            return None
        self.doubtful |= {(kind, name) for name in faulty}
        if kind != "caution":
            self.broken.add(kind)
        good = {name: pair for name, pair in parts.rest.entries.items() if name not in faulty}
        return Tree(good, parts.rest.span)


def _is_in(span: Span, key: Text, value: Node) -> bool:
    """Tell whether a place is in an entry."""
    return key.span[1:3] <= span[1:3] <= max(value.span[3:5], key.span[3:5])


def _one_of_two(own: Entry, shared: Entry) -> str:
    """Return what to do with an entry whose name the shared library has: that one may lack what it says."""
    said: list[str] = [] if isinstance(own, Block) else [each.name for each in fields(own)]
    lacking = [name for name in said if name not in _NAMING and getattr(own, name) and not getattr(shared, name)]
    if lacking:
        keys = listed([f"'{_KEYS.get(name, name.rstrip('_').replace('_', '-'))}'" for name in lacking])
        return f"give this one another name: the shared one lacks {keys}"
    return "use the shared one, or give this one another name"


_NAMING = ("key", "name", "plural", "span")
_KEYS = {"stills": "keeps"}
"""Keys of the file whose field is called otherwise."""


def merged(shared: Mapping[str, Entry], own: Mapping[str, Entry]) -> tuple[dict[str, Entry], list[Finding]]:
    """Return both together, and the names that stand in both: each is a fault of the guide's own."""
    faults = [
        Finding(
            "same-name",
            Level.ERROR,
            entry.span,
            f"'{name}' is in this guide and in the shared library",
            also=(Also(shared[name].span, f"'{name}' in the shared library"),),
            hint=_one_of_two(entry, shared[name]),
        )
        for name, entry in own.items()
        if name in shared
    ]
    return {**shared, **own}, faults
