"""Which YAML files of a Sphinx project are pages, and which guide a page belongs to."""

from __future__ import annotations

import os
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from putback.finding import Finding
from putback.guide import Guide, cached_guide, guide_of, stamp_of
from putback.lint import chosen, findings_of
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


def guide_for(env: BuildEnvironment, docname: str) -> Guide | None:
    """Return the guide that a page lies in, read once for each state of its files; None when there is none."""
    root = guide_of(Path(env.doc2path(docname)))
    if root is None:
        return None
    guide = cached_guide(root, stamp_of(root))
    only = tuple((option, value) for option, value in env.config.putback_variant.items())
    return replace(guide, only=chosen(guide, only)) if only else guide


def depend_on(env: BuildEnvironment, files: list[str]) -> None:
    """Note that the current page is to be read again when one of these files (paths as shown) changes."""
    for name in files:
        env.note_dependency(str(Path(name).resolve()))


def findings_for(guide: Guide) -> list[Finding]:
    """Return what the checks find in a guide, worked out once for each reading of it."""
    return _findings(guide.root, stamp_of(guide.root), guide.only)


@cache
def _findings(root: Path, stamp: tuple[tuple[str, int, int], ...], only: Choice) -> list[Finding]:
    return findings_of(replace(cached_guide(root, stamp), only=only))[0]
