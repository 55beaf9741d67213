"""The texts that lie in a guide's folder: pages of prose, and catalogues of translations."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path
from typing import NamedTuple

from putback.guide.folders import Stray, walk
from putback.guide.slips import is_leftover, page_name
from putback.source.intake import NotReadError, Store
from putback.source.late import Late
from putback.source.plainly import printable


class Pages(NamedTuple):
    """The prose pages of a guide."""

    files: list[Path]
    """What ends in `.md`, whatever it is."""
    strays: list[Stray]
    """What only looks like a page."""


LEFT_OUT = frozenset({"build"})
"""Folders directly in a guide whose pages are not part of it."""


def pages_in(root: Path, names: Collection[str], store: Store) -> Pages:
    """Return the prose pages of a guide: those in its folder, and those in folders below, which are printed as well."""
    found = Pages([], [])
    _add_pages(found, root, names)
    for name in sorted(names):
        if name not in LEFT_OUT and not name.startswith(".") and store.is_folder(root / name):
            inside = () if store.leads_out(root / name, root) else walk(root / name, [], store, within=root)
            for folder, below in inside:
                _add_pages(found, folder, below)
    return found


def _add_pages(found: Pages, folder: Path, names: Collection[str]) -> None:
    for name in sorted(names):
        path = folder / name
        key = page_name(name)
        if key is None:
            continue
        if not name.endswith(".md"):
            hint = None if f"{key}.md" in names else f"name it '{printable(key)}.md'"
            found.strays.append(Stray(path, "this page is not read", hint))
        elif printable(name) != name:
            found.strays.append(Stray(path, "the name of this page is not plain text", "give it another name"))
        else:
            found.files.append(path)


CATALOGUES = "translations"
"""The folder of a guide's translations, a file each: `de.po`."""
_LANGUAGE = Late(r"[A-Za-z]{2,3}([-_][A-Za-z0-9]{2,8})*")


def catalogues_in(root: Path, names: Collection[str], store: Store) -> Pages:
    """Return the files with a guide's translations, each called by the tag of its language."""
    found, folder = Pages([], []), root / CATALOGUES
    if store.leads_out(folder, root):
        message, hint = "this is a link that leads outside the guide", "copy the folder into the guide"
        return Pages([], [Stray(folder, message, hint, unread=True)])
    try:
        inside = store.names(folder) if CATALOGUES in names else []
    except NotReadError:
        inside = []
    for name in inside:
        if is_leftover(name) or not name.casefold().endswith(".po"):
            continue
        stem = name[:-3]
        if not name.endswith(".po"):
            found.strays.append(Stray(folder / name, "this catalogue is not read", f"name it '{printable(stem)}.po'"))
        elif not _LANGUAGE.fullmatch(stem):
            message = "this catalogue is not read: its name is not the tag of a language"
            found.strays.append(Stray(folder / name, message, "name it by the tag, as in 'de.po'"))
        else:
            found.files.append(folder / name)
    return found
