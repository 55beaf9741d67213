"""The changelog, from its fragments: `changes/0142.speed.md`, and after a release `changes/0.2.0/0142.speed.md`."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from docutils import nodes
from packaging.version import Version
from sphinx.errors import ExtensionError
from sphinx.util.docutils import SphinxDirective

if TYPE_CHECKING:
    from sphinx.application import Sphinx

CHANGE = re.compile(r"(\d{4})\.([a-z-]+)\.md")
"""The name of a fragment."""

RELEASED = "released.txt"
"""The file in the folder of a release that has its day."""


@dataclass(frozen=True, slots=True)
class Release:
    """What changed from one release to the next."""

    version: str
    """Its number; empty for what is not released yet."""
    day: str
    """The day of the release, as 2026-03-31; empty for what is not released yet."""
    fragments: tuple[Path, ...]
    """One file a change, newest first."""

    @property
    def title(self) -> str:
        """The heading above its changes."""
        return f"{self.version}, {self.day}" if self.version else "Not released yet"


def releases(folder: Path) -> list[Release]:
    """Return what is not released yet, and the releases, newest first. Raises `ValueError` for a name that is wrong."""
    versions = sorted((path for path in folder.iterdir() if path.is_dir()), key=lambda path: Version(path.name))
    return [
        Release("", "", _fragments(folder)),
        *(
            Release(path.name, (path / RELEASED).read_text(encoding="utf-8").strip(), _fragments(path))
            for path in reversed(versions)
        ),
    ]


def _fragments(folder: Path) -> tuple[Path, ...]:
    found = sorted(folder.glob("*.md"), reverse=True)
    for path in found:
        if not CHANGE.fullmatch(path.name):
            raise ValueError(f"{path.name} is not named NNNN.topic.md")
    return tuple(found)


def notes(release: Release) -> str:
    """Return the changes of a release as Markdown, one item a fragment."""
    texts = [path.read_text(encoding="utf-8").strip() for path in release.fragments]
    return "".join("- " + "\n  ".join(text.splitlines()) + "\n" for text in texts)


class ShowChanges(SphinxDirective):
    """All fragments of the changelog, newest first; with a heading for each release as soon as there is one."""

    def run(self) -> list[nodes.Node]:
        """Return a list with one item a fragment, for each release."""
        folder = Path(self.env.srcdir) / "changes"
        self.env.note_dependency(str(folder))
        try:
            found = releases(folder)
        except (ValueError, OSError) as error:
            raise ExtensionError(f"docs/changes: {error}") from error
        shown: list[nodes.Node] = []
        for release in found:
            if release.fragments:
                shown += self._list_of(release, titled=len(found) > 1)
        return shown

    def _list_of(self, release: Release, *, titled: bool) -> list[nodes.Node]:
        listed = nodes.bullet_list(bullet="-")
        for path in release.fragments:
            self.env.note_dependency(str(path))
            listed += nodes.list_item("", *self.parse_text_to_nodes(path.read_text(encoding="utf-8")))
        return [*([nodes.rubric("", release.title)] if titled else []), listed]


def setup(app: Sphinx) -> dict[str, Any]:
    """Register the directive."""
    app.add_directive("putback-changes", ShowChanges)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
