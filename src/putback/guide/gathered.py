"""What is gathered while files are read: which they were, and what was wrong with them."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple, TypedDict

from putback.guide.folders import Stray
from putback.guide.paths import shown_path
from putback.model.verbs import MEANT_WORDS
from putback.source.finding import Finding, Level
from putback.source.intake import Store
from putback.source.load import load
from putback.source.schema import FileKind, review
from putback.source.span import top_of
from putback.source.tree import Mapping


class AsRead(TypedDict):
    """What a guide and a shelf both tell of the reading of their files."""

    files: tuple[str, ...]
    faults: tuple[Finding, ...]
    unread: frozenset[str]
    mended: frozenset[str]


class Parts(NamedTuple):
    """What can be used of a file."""

    root: Mapping | None
    """The tree to build on; None when some fault of shape is in it, or it could not be read."""
    rest: Mapping | None = None
    """The tree of a file with faults of shape, of which some parts may be good."""
    faults: tuple[Finding, ...] = ()
    """The faults of shape in it."""


class Top(NamedTuple):
    """What a file must lie in, after all links."""

    folder: Path
    """The folder of the guide, or of its library."""
    called: str = "the guide"
    """What it is in words."""

    def stray(self, path: Path, what: str, store: Store) -> Stray | None:
        """Return why a file or folder is not read that is a link and leads out; None when it does not."""
        if not store.leads_out(path, self.folder):
            return None
        message, hint = f"this is a link that leads outside {self.called}", f"copy the {what} into {self.called}"
        return Stray(path, message, hint, unread=True)


class Gathered:
    """Loads and validates files, and gathers what is wrong."""

    def __init__(self) -> None:
        self.files: list[str] = []
        self.faults: list[Finding] = []
        self.unread: set[str] = set()
        self.mended: set[str] = set()

    def load(self, path: Path, shown: str, kind: FileKind, store: Store, top: Top) -> Mapping | None:
        """Return the tree of a file of a good shape, or None when its faults (now noted) leave nothing to build on."""
        return self.load_parts(path, shown, kind, store, top).root

    def load_parts(self, path: Path, shown: str, kind: FileKind, store: Store, top: Top) -> Parts:
        """Return the tree of a file, or else what of it is of a good shape; all faults are noted.

        A file whose only faults are misspelt words is read as it was meant. A link that leads out of `top` is not read:
        a stranger's could lead to a secret, of which a finding shows a line.
        """
        if stray := top.stray(path, "file", store):
            self.files.append(shown)
            self.refuse(shown, stray.message, stray.hint)
            return Parts(None)
        loaded = load(path, shown, store)
        self.files.append(loaded.path)
        self.faults += loaded.faults
        if loaded.unreadable:
            self.unread.add(loaded.path)
        faults, root = review(loaded, kind, MEANT_WORDS)
        self.faults += faults
        if isinstance(root, Mapping):
            if faults:
                self.mended.add(loaded.path)
            return Parts(root)
        whole = loaded.root if isinstance(loaded.root, Mapping) and faults else None
        return Parts(None, whole, tuple(faults))

    def note(self, strays: Iterable[Stray]) -> None:
        """Say what lies in a folder and is not read as it stands."""
        for stray in strays:
            self.refuse(shown_path(stray.path), stray.message, stray.hint, unread=stray.unread)

    def refuse(self, shown: str, message: str, hint: str | None = None, *, unread: bool = True) -> None:
        """Say that a file or folder is not read, or cannot be."""
        self.faults.append(Finding("unread-file", Level.ERROR, top_of(shown), message, hint=hint))
        if unread:
            self.unread.add(shown)

    def add(
        self, files: Iterable[str], faults: Iterable[Finding], unread: Iterable[str], mended: Iterable[str] = ()
    ) -> None:
        """Take over what somebody else gathered."""
        self.files += files
        self.faults += faults
        self.unread.update(unread)
        self.mended.update(mended)

    def as_read(self) -> AsRead:
        """Return all of it, as it is now, for a record."""
        return {
            "files": tuple(self.files),
            "faults": tuple(self.faults),
            "unread": frozenset(self.unread),
            "mended": frozenset(self.mended),
        }
