"""Which YAML files of a Sphinx project are pages, and which guide a page belongs to."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from putback.guide.paths import guide_of
from putback.guide.stamps import cached_guide, stamp_of
from putback.ledger.opened import Opened, open_guide
from putback.lint.run import chosen, findings_of
from putback.source.finding import Finding
from putback.source.intake import resolved
from putback.variants import Choice

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.config import Config
    from sphinx.environment import BuildEnvironment


def leave_other_yaml(app: Sphinx, config: Config) -> None:
    """Exclude every YAML file that is neither a job nor a machine file of a guide.

    A project may hold any other YAML; naming this extension must not turn it into pages.
    """
    root = Path(app.srcdir)
    excluded = list(config.exclude_patterns)
    for folder, folders, files in os.walk(root):
        folders[:] = [name for name in folders if not name.startswith((".", "_build"))]
        for name in files:
            path = Path(folder) / name
            if path.suffix == ".yaml" and not is_page(path):
                excluded.append(path.relative_to(root).as_posix())
    config.exclude_patterns = excluded


def is_page(path: Path) -> bool:
    """Tell whether a file is a job, or the machine file, of a guide."""
    if path.name == "machine.yaml":
        return (path.parent / "guide.yaml").is_file() or (path.parent / "jobs").is_dir()
    return path.parent.name == "jobs" and (path.parent.parent / "machine.yaml").is_file()


def opened_for(env: BuildEnvironment, docname: str) -> Opened | None:
    """Return the guide that a page lies in, opened once for each state of its files; None when there is none."""
    root = guide_of(Path(env.doc2path(docname)))
    return None if root is None else opened_at(env, root)


def opened_at(env: BuildEnvironment, root: Path) -> Opened:
    """Return the guide in a folder, opened for the variants that the project chose, once for each state of its files.

    While `pages_of` lends a guide of this folder, it is that one.
    """
    for lent in _lent:
        if lent.guide.root == resolved(root):
            return lent
    return _opened(root, stamp_of(root), tuple(env.config.putback_variant.items()))


@cache
def _opened(root: Path, stamp: tuple[tuple[str, int, int], ...], choice: Choice) -> Opened:
    guide = cached_guide(root, stamp)
    return open_guide(guide, chosen(guide, choice))


_lent: list[Opened] = []


@contextmanager
def pages_of(opened: Opened) -> Iterator[None]:
    """Make all pages of a guide, meanwhile, from this one, which has been checked: not from what its files become."""
    _lent.append(opened)
    try:
        yield
    finally:
        _lent.remove(opened)


def depend_on(env: BuildEnvironment, files: Iterable[str]) -> None:
    """Note that the current page is to be read again when one of these files (paths as shown) changes."""
    for name in files:
        env.note_dependency(str(Path(name).resolve()))


@cache
def findings_for(opened: Opened) -> list[Finding]:
    """Return what the checks find in a guide, worked out once for each opening of it."""
    return findings_of(opened)[0]
