"""Which YAML files of a Sphinx project are pages, and which guide a page belongs to."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from sphinx.errors import SphinxError

from putback.guide.paths import guide_of
from putback.guide.record import Guide
from putback.guide.stamps import cached_guide, stamp_of
from putback.ledger.opened import Opened, open_guide
from putback.lint.run import chosen, findings_of
from putback.source.finding import Finding
from putback.source.intake import NotReadError, resolved, take
from putback.source.outside import BadCheckError
from putback.translation.printed import printed_in
from putback.variants import Choice

if TYPE_CHECKING:
    from sphinx.environment import BuildEnvironment


def is_page(path: Path) -> bool:
    """Tell whether a file is a job, a block that is printed alone, or the machine file, of a guide."""
    if path.name == "machine.yaml":
        return (path.parent / "guide.yaml").is_file() or (path.parent / "jobs").is_dir()
    in_guide = path.parent.name in ("jobs", "blocks") and (path.parent.parent / "machine.yaml").is_file()
    return in_guide and (path.parent.name == "jobs" or _has_own_page(path))


def pages_proved(guide: Guide) -> set[str]:
    """Return the names of the pages that a manual must have: its machine's, and that of each job."""
    names = ("machine", *(f"jobs/{key}" for key in guide.jobs))
    return {name for name in names if is_page(guide.root / f"{name}.yaml")}


_OWN_PAGE = re.compile(rb"^[ {,\"']*own-page[\"']?[ ]*:[ ]*true\b", re.MULTILINE)


def _has_own_page(path: Path) -> bool:
    """Tell whether a block says that it has a page of its own; what is wrong with the file is told elsewhere."""
    try:
        return _OWN_PAGE.search(take(path)) is not None
    except NotReadError:
        return False


def opened_for(env: BuildEnvironment, docname: str) -> Opened | None:
    """Return the guide that a page lies in, opened once for each state of its files; None when there is none."""
    # A page may be a link to a file elsewhere: it belongs to the guide that the link lies in.
    root = guide_of(Path(env.doc2path(docname)).parent)
    return None if root is None else opened_at(env, root)


def opened_at(env: BuildEnvironment, root: Path) -> Opened:
    """Return the guide in a folder, opened for the variants that the project chose, once for each state of its files.

    While `pages_of` lends a guide of this folder, it is that one.
    """
    lent = lent_at(root)
    return lent if lent is not None else _printed(*_state(env, root))


def _state(env: BuildEnvironment, root: Path) -> tuple[Path, tuple[tuple[str, int, int], ...], Choice]:
    return root, stamp_of(root), tuple(env.config.putback_variant.items())


def lent_at(root: Path) -> Opened | None:
    """Return the guide of a folder that `pages_of` lends; None when it lends none."""
    return next((lent for lent in _lent if lent.guide.root == resolved(root)), None)


def lends() -> bool:
    """Tell whether `putback build` is at work, and lends a guide."""
    return bool(_lent)


@cache
def _opened(root: Path, stamp: tuple[tuple[str, int, int], ...], choice: Choice) -> Opened:
    guide = cached_guide(root, stamp)
    return open_guide(guide, chosen(guide, choice))


@cache
def _printed(root: Path, stamp: tuple[tuple[str, int, int], ...], choice: Choice) -> Opened:
    """Return a guide as it is printed: one in German has the library in German too."""
    opened = _opened(root, stamp, choice)
    printed = printed_in(opened.guide)
    return opened if printed is opened.guide else open_guide(printed, opened.only)


_lent: list[Opened] = []


@contextmanager
def pages_of(opened: Opened) -> Iterator[None]:
    """Make all pages of a guide, meanwhile, from this one, which has been checked: not from what its files become."""
    _lent.append(opened)
    try:
        yield
    finally:
        _lent.remove(opened)


def findings_at(env: BuildEnvironment, root: Path) -> list[Finding]:
    """Return what the checks find in the guide of a folder, as its author wrote it, worked out once for each state."""
    return _findings(lent_at(root) or _opened(*_state(env, root)))


@cache
def _findings(opened: Opened) -> list[Finding]:
    try:
        return findings_of(opened)[0]
    except BadCheckError as error:
        raise SphinxError(str(error)) from error
