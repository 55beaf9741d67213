"""Which Putback gives a result, and with what: two results of one guide can only differ between editions.

An edition is the content of Putback itself, of the packages that bring checks, the versions of all packages installed,
and Python.
"""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

import putback
from putback.source.outside import entry_points_of_checks, installed

_LAYOUT = 1
"""Of what is kept: another number for another form."""

_NOT_OF_LINT = frozenset({"testing", "placing", "starter", "typstpdf", "sphinxext", "cli", "__pycache__"})
"""Folders of Putback that no check of a guide comes to."""

_LARGEST = 50_000_000
"""Bytes of a package of checks that are looked through."""


def edition(without: frozenset[str] = _NOT_OF_LINT) -> str | None:
    """Return a digest of all that a result depends on besides the guide's files; None when there is no telling.

    `without` are folders of Putback on which it does not depend.
    """
    whole = hashlib.sha256()
    try:
        parts = [*_python(), *(name for _, name in installed()), *_own(without), *_brought()]
    except (OSError, ValueError, ImportError, AttributeError):
        return None
    for part in parts:
        data = part if isinstance(part, bytes) else part.encode("utf-8", "surrogateescape")
        whole.update(b"%d " % len(data))
        whole.update(data)
    return whole.hexdigest()


def edition_of_manuals() -> str | None:
    """Return the same for manuals: they depend on all of Putback."""
    return edition(frozenset({"__pycache__"}))


def _python() -> Iterator[str]:
    yield f"{_LAYOUT} {putback.__version__} {sys.version} {sys.platform} {sys.getfilesystemencoding()}"


def _own(without: frozenset[str]) -> Iterator[bytes | str]:
    """Yield Putback itself: of an installed one, the list of all its files with their digests.

    In a source checkout, modules are known by what the system says of their files, by less of which Python itself
    decides whether it compiles one again.
    """
    package = Path(putback.__file__).parent
    record = package.parent / f"putback-{putback.__version__}.dist-info" / "RECORD"
    if record.is_file():
        yield record.read_bytes()
        return
    for path, facts in _files(str(package), without):
        yield f"{path} {facts.st_size} {facts.st_mtime_ns} {facts.st_ctime_ns} {facts.st_ino}"
    yield from _content(str(package.parents[1] / "schema"))
    yield (package.parents[1] / "docs" / "changes" / "renames.tsv").read_bytes()


def _brought() -> Iterator[bytes | str]:
    """Yield the packages that bring checks."""
    for point in entry_points_of_checks():
        top = point.value.partition(":")[0].partition(".")[0].strip()
        yield f"{point.name} {point.value}"
        spec = find_spec(top)
        if spec is None or not (spec.submodule_search_locations or spec.has_location):
            raise ImportError(f"{top} is nowhere to be seen")
        for place in spec.submodule_search_locations or ():
            yield from _content(place)
        if spec.origin and not spec.submodule_search_locations:
            yield Path(spec.origin).read_bytes()


def _content(top: str) -> Iterator[bytes]:
    """Yield names and bytes of all files in a folder and below. Raises `ValueError` when they are too large."""
    left = _LARGEST
    for path, _ in _files(top, frozenset({"__pycache__"})):
        data = Path(path).read_bytes()
        left -= len(data)
        if left < 0:
            raise ValueError(f"{top} is too large")
        yield os.fsencode(os.path.relpath(path, top))
        yield data


def _files(top: str, without: frozenset[str]) -> Iterator[tuple[str, os.stat_result]]:
    """Yield all files in a folder and below, in the order of their names."""
    waiting = [top]
    while waiting:
        with os.scandir(waiting.pop()) as entries:
            found = sorted(entries, key=lambda entry: entry.name)
        for entry in found:
            if entry.name in without:
                continue
            if entry.is_dir():
                waiting.append(entry.path)
            else:
                yield entry.path, entry.stat()
