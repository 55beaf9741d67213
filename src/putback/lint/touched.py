"""Which guides a change touches: whole guides, since in a guide each file can matter to every other.

A torque that one job states is that of the bolt in all jobs; a job begins where another ends; a part that no job uses
any more is told in the machine file. What lies outside a guide and its library matters to no guide. So what is found
in a guide that no change touches is what was found there before.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from putback.guide.library import folder_for
from putback.guide.slips import looks_like
from putback.lint.history import Changes, changes_since
from putback.lint.repository import top_above
from putback.lint.search import Found, Pick, Picked
from putback.source.grammar import counted_word
from putback.source.intake import resolved
from putback.source.plainly import printable
from putback.source.schema import shipped


def changed_since(revision: str, paths: Iterable[Path]) -> Pick:
    """Return what picks the guides that the changes since a revision touch, in the repositories of some paths.

    Picking raises `NoHistoryError`.
    """

    def pick(found: Found) -> Picked:
        folders = [path if path.is_dir() else path.parent for path in paths]
        touched = Touched.by(changes_since(revision, folders))
        guides = {root: files for root, files in found.items() if touched.guide(root)}
        many = len(found) - len(guides)
        left_out = (
            (f"{counted_word(many, 'guide')} that no change since {printable(revision)} touches",) if many else ()
        )
        return Picked(guides, left_out)

    return pick


@dataclass(frozen=True, slots=True)
class Touched:
    """What has changed, in a form that can be asked about folders."""

    tops: frozenset[Path]
    """The folders of the repositories of which the changes are known."""
    changed: frozenset[Path]
    """Every file that has changed, and where it leads when it is a link."""
    below: dict[Path, set[str]] = field(default_factory=dict)
    """For each folder, the names in it that have changed, or in which something has."""

    @classmethod
    def by(cls, changes: Iterable[Changes]) -> Touched:
        """Return what some changes touch."""
        changes = list(changes)
        files = {file for one in changes for file in one.files}
        files |= {resolved(file) for file in files}
        below: dict[Path, set[str]] = {}
        for file in files:
            for path in (file, *file.parents):
                names = below.setdefault(path.parent, set())
                if path.name in names:
                    break
                names.add(path.name)
        return cls(frozenset(one.top for one in changes), frozenset(files), below)

    def guide(self, root: Path) -> bool:
        """Tell whether a change can have changed what is found in a guide; yes as well when git cannot know.

        `root` is its folder, after all links.
        """
        library = folder_for(root)
        return (
            self.within(root)
            or self.on_the_way(root, library)
            or (library != shipped("shared") and self.within(library))
        )

    def on_the_way(self, root: Path, library: Path) -> bool:
        """Tell whether something has changed that says whether a folder is a guide, or which library it has."""
        nearer = True
        for folder in root.parents:
            names = self.below.get(folder, ())
            if any(looks_like(name, ("guide", "machine"), near=False) or name == "jobs" for name in names):
                return True
            if nearer and any(name.casefold() == "shared" for name in names):
                return True
            nearer = nearer and folder != library.parent
        return False

    def within(self, folder: Path) -> bool:
        """Tell whether something has changed in a folder, or in what links in it lead to."""
        waiting, seen = [folder], set[Path]()
        while waiting:
            place = resolved(waiting.pop())
            if place in seen:
                continue
            seen.add(place)
            if self.reaches(place) or not self.is_known(place):
                return True
            for path in _links_and_repositories(place):
                if path.name == ".git":
                    return True  # of what a repository in this one has changed, git tells nothing
                waiting.append(path)
        return False

    def reaches(self, place: Path) -> bool:
        """Tell whether a file or folder has changed, or something in it, or what it lies in."""
        return place.name in self.below.get(place.parent, ()) or not self.changed.isdisjoint(place.parents)

    def is_known(self, place: Path) -> bool:
        """Tell whether git knows of changes there: it is in one of the repositories, and in none within that.

        Outside all repositories, nothing is known; a guide that leads there is always checked.
        """
        return top_above(place) in self.tops


def _links_and_repositories(folder: Path) -> Iterator[Path]:
    """Yield the links in a folder and all below it, and what makes a folder below it a repository of its own."""
    waiting = [folder]
    while waiting:
        place = waiting.pop()
        try:
            entries = [*os.scandir(place)]
        except OSError:  # it is a file, or cannot be listed: then nothing in it is read
            continue
        for entry in entries:
            path = Path(entry.path)
            if entry.is_symlink() or (entry.name == ".git" and place != folder):
                yield path
            elif entry.is_dir(follow_symlinks=False) and not entry.name.startswith(".") and entry.name not in _UNREAD:
                waiting.append(path)


_UNREAD: Sequence[str] = ("node_modules",)
"""Folders that no guide is read from."""
