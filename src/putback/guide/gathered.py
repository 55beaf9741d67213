"""What is gathered while files are read: which they were, and what was wrong with them."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TypedDict

from putback.guide.folders import Stray
from putback.guide.paths import shown_path
from putback.model.verbs import OTHER_WORDS
from putback.source.finding import Finding, Level
from putback.source.intake import Store
from putback.source.load import load
from putback.source.schema import FileKind, validate
from putback.source.span import top_of
from putback.source.tree import Mapping


class AsRead(TypedDict):
    """What a guide and a shelf both tell of the reading of their files."""

    files: tuple[str, ...]
    faults: tuple[Finding, ...]
    unread: frozenset[str]


class Gathered:
    """Loads and validates files, and gathers what is wrong."""

    def __init__(self) -> None:
        self.files: list[str] = []
        self.faults: list[Finding] = []
        self.unread: set[str] = set()

    def load(self, path: Path, shown: str, kind: FileKind, store: Store) -> Mapping | None:
        """Return the tree of a file of a good shape, or None when its faults (now noted) leave nothing to build on."""
        loaded = load(path, shown, store)
        self.files.append(loaded.path)
        self.faults += loaded.faults
        if loaded.unreadable:
            self.unread.add(loaded.path)
        if loaded.root is None:
            return None
        faults = validate(loaded, kind, OTHER_WORDS)
        self.faults += faults
        return loaded.root if isinstance(loaded.root, Mapping) and not (faults or loaded.faults) else None

    def note(self, strays: Iterable[Stray]) -> None:
        """Say what lies in a folder and is not read as it stands."""
        for stray in strays:
            self.refuse(shown_path(stray.path), stray.message, stray.hint, unread=stray.unread)

    def refuse(self, shown: str, message: str, hint: str | None = None, *, unread: bool = True) -> None:
        """Say that a file or folder is not read, or cannot be."""
        self.faults.append(Finding("unread-file", Level.ERROR, top_of(shown), message, hint=hint))
        if unread:
            self.unread.add(shown)

    def add(self, files: Iterable[str], faults: Iterable[Finding], unread: Iterable[str]) -> None:
        """Take over what somebody else gathered."""
        self.files += files
        self.faults += faults
        self.unread.update(unread)

    def as_read(self) -> AsRead:
        """Return all of it, as it is now, for a record."""
        return {"files": tuple(self.files), "faults": tuple(self.faults), "unread": frozenset(self.unread)}
