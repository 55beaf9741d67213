"""Which names in a folder are files of a guide, and which only look as if they were meant to be.

A file that is there and is not read takes its checks away without a word. So every name that is near to one that is
read is told: `hazards.yml`, `Hazards.yaml`, `jobs` that is no folder. As far as it can be read it is taken for what it
was meant for, so that what follows from the slip is not told as well.
"""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

from putback.intake import LARGEST_PICTURE, LONGEST_PATH, NotReadError, Store, printable
from putback.nearest import distance

_LEFTOVER = re.compile(r"[.~#].*|.*(~|#|\.(bak|backup|old|orig|rej|save|sw[a-p]|tmp))", re.IGNORECASE | re.DOTALL)
_YAML = re.compile(r"(.+?)\.(ya?ml)", re.DOTALL)
_LIKE_YAML = re.compile(r"(.+?)((\.(ya?ml|yal|yaml?l|ymal|yalm|yam))+(\.txt)?|\.json)", re.DOTALL)
_LIKE_SEQUENCE = re.compile(rf"{_LIKE_YAML.pattern}|([a-z0-9-]+)|(?!read-?me|notes?\b|todo)(.+)\.txt", re.DOTALL)
_LIKE_PAGE = re.compile(r"(.+?)(\.md|\.markdown)(\.txt)?", re.DOTALL)

MOST_FOLDERS = 100_000
"""Folders that a search goes through."""


class Stray(NamedTuple):
    """Something in a folder of a guide that is not read as it stands."""

    path: Path
    """Where it is."""
    message: str
    """What is wrong."""
    hint: str | None = None
    """What would be right."""
    unread: bool = False
    """Whether it could not be read at all, so that nothing in it was looked at."""


@dataclass(slots=True)
class Contents:
    """What is read of a folder."""

    files: dict[str, Path] = field(default_factory=dict)
    """By the name that it goes by in the guide: `hazards`, or that of a job or block."""
    strays: list[Stray] = field(default_factory=list)
    """What is wrong with names and folders."""
    lost: set[str] = field(default_factory=set)
    """Names of files that are there and are not looked at."""
    whole: bool = True
    """False when the folder could not be listed, so that anything may be in it."""


def is_leftover(name: str) -> bool:
    """Tell whether a name is hidden, or one that an editor gives to a copy that it keeps."""
    return bool(_LEFTOVER.fullmatch(name))


def _plainly(name: str) -> str:
    """Return a name without what makes two names differ that look alike."""
    letters = unicodedata.normalize("NFKC", name).casefold()
    return "".join(letter for letter in letters if not letter.isspace() and unicodedata.category(letter) != "Cf")


def looks_like(name: str, wanted: Collection[str], *, near: bool = True) -> str | None:
    """Return the one of `wanted` (without `.yaml`) that a file's name is, or is a slip for; None for no such name.

    Without `near`, only capitals and the ending may differ.
    """
    if is_leftover(name):
        return None
    found = (_LIKE_YAML if near else _YAML).fullmatch(_plainly(name))
    if found is None:
        return None
    if found[1] in wanted:
        return found[1]
    alike = [each for each in wanted if _is_slip(found[1], each)] if near and found[2].startswith(".y") else []
    return alike[0] if alike else None


def _is_slip(word: str, name: str) -> bool:
    """One letter wrong in a name of five or more, or an `s` that is missing or too much."""
    return word in (f"{name}s", name.removesuffix("s")) or (len(name) > 4 and distance(word, name) == 1)


def _stands_in(name: str, missing: Collection[str]) -> str | None:
    """Return the one of some missing files that a name may stand for: `hazards`, `hazards.txt`, `hazards-2.yaml`."""
    plain = _plainly(name)
    if is_leftover(name) or not (_YAML.fullmatch(plain) or plain.removesuffix(".txt") in missing):
        return None
    return next((each for each in missing if plain.startswith(each)), None)


def choose(folder: Path, names: Collection[str], wanted: Collection[str], store: Store) -> Contents:
    """Return which file stands for each of `wanted`, and what only looks like one of them."""
    found = Contents({name: folder / f"{name}.yaml" for name in wanted if f"{name}.yaml" in names})
    exact = set(found.files)
    missing = [name for name in wanted if name not in exact]
    for name in sorted(names):
        key = looks_like(name, wanted) or _stands_in(name, missing)
        path = folder / name
        if key is None or name == f"{key}.yaml" or ("." not in name and store.is_folder(path)):
            continue
        if key not in exact:
            found.files.setdefault(key, path)
            found.strays.append(Stray(path, "this file is not read", f"name it '{key}.yaml'"))
        elif looks_like(name, wanted, near=False) or key not in ("guide", "machine"):
            found.strays.append(Stray(path, f"this file is not read: {key}.yaml is"))
    return found


def holds_guide(names: Collection[str]) -> bool:
    """Tell from the names in a folder whether it is a guide: one of its two files, or a slip for one, is there."""
    if "guide.yaml" in names or "machine.yaml" in names:
        return True
    meant = {looks_like(name, ("guide", "machine"), near=False) for name in names if len(name) < 20} - {None}
    return len(meant) == 2 or (bool(meant) and "jobs" in names)


def sequences_in(folder: Path, store: Store) -> Contents:
    """Return the files of `jobs` or `blocks`: what is directly in it with the ending `.yaml`, whatever it is."""
    found, kind = Contents(), _FOLDERS.get(_plainly(folder.name), folder.name)
    if not store.is_there(folder):
        return found
    try:
        names = store.names(folder)
    except NotReadError as error:
        found.strays.append(Stray(folder, f"the folder cannot be read: {error}", unread=True))
        found.whole = False
        return found
    for name in names:
        path = folder / name
        if is_leftover(name):
            continue
        if name.endswith(".yaml"):
            found.files[name.removesuffix(".yaml")] = path
            if printable(name) != name:
                found.strays.append(Stray(path, "the name of this file is no plain text", "give it another name"))
    for name in names:
        path = folder / name
        slip = _LIKE_SEQUENCE.fullmatch(_plainly(name))
        if is_leftover(name) or name.endswith(".yaml"):
            continue
        # Without an ending, only what could be the name of a job is one: not README.
        if slip and ("." in name or (name.islower() and not store.is_folder(path))):
            key = name[: len(slip[1] or slip[slip.lastindex or 0])]
            taken = key in found.files
            hint = None if taken else f"name it '{printable(key)}.yaml'"
            words = f"this file is not read: {printable(key)}.yaml is" if taken else "this file is not read"
            found.files.setdefault(key, path)
            found.strays.append(Stray(path, words, hint))
        elif store.leads_out(path, folder):
            # All that lies elsewhere is not searched, and what leads upwards leads round.
            upwards = store.identity(path) in {store.identity(above) for above in folder.parents}
            if not upwards and any(_is_yaml(inner) for inner in _names(path, store)):
                found.strays.append(Stray(path, "nothing in this folder is read", f"put the files into {kind}/ itself"))
        elif store.is_folder(path):
            _look_inside(path, kind, found, store)
    return found


def _look_inside(folder: Path, name: str, found: Contents, store: Store) -> None:
    for path in yaml_below(folder, found.strays, store):
        found.lost.add(path.name.partition(".")[0])
        found.strays.append(Stray(path, "this file is not read", f"move it into {name}/ itself"))


def yaml_below(folder: Path, faults: list[Stray], store: Store) -> Iterator[Path]:
    """Yield what looks like a YAML file in a folder and all below it; folders that cannot be listed go to `faults`."""
    for inner, names in walk(folder, faults, store):
        for name in names:
            if _is_yaml(name):
                yield inner / name


def _is_yaml(name: str) -> bool:
    return bool(_LIKE_YAML.fullmatch(_plainly(name))) and not name.endswith(".json") and not is_leftover(name)


def _names(folder: Path, store: Store) -> list[str]:
    try:
        return store.names(folder)
    except NotReadError:
        return []


def walk(
    top: Path,
    faults: list[Stray],
    store: Store,
    *,
    closed: Callable[[Collection[str]], bool] = lambda names: False,
    seen: Collection[object] = (),
    within: Path | None = None,
) -> Iterator[tuple[Path, list[str]]]:
    """Yield a folder and all below it with their names; through links too, but no folder twice, and no hidden one.

    Nothing below a folder is looked at whose names are `closed`, and none that was `seen` (by its identity). A link
    that leads out of `within` (the folder itself when not given) is followed only to a folder that is `closed`.
    """
    waiting, seen = [top], set(seen)
    most = len(seen) + MOST_FOLDERS
    while waiting:
        folder = waiting.pop()
        identity = store.identity(folder)
        if identity in seen:
            continue
        seen.add(identity)
        try:
            names = store.names(folder)
        except NotReadError as error:
            faults.append(Stray(folder, f"the folder cannot be read: {error}", unread=True))
            continue
        if len(seen) > most:
            faults.append(Stray(folder, f"more than {MOST_FOLDERS:,} folders: no more are looked at", unread=True))
            return
        yield folder, names
        if closed(names):
            continue
        inner = (folder / name for name in names if not name.startswith(".") and name != "node_modules")
        # What lies too deep is no folder to the system; to list it fails, and is told.
        below = [path for path in inner if store.is_folder(path) or len(os.fsencode(path)) >= LONGEST_PATH]
        waiting += reversed(
            [path for path in below if not store.leads_out(path, within or top) or closed(_names(path, store))]
        )


_FOLDERS = {"jobs": "jobs", "job": "jobs", "blocks": "blocks", "block": "blocks"}


def misnamed_folders(
    root: Path, names: Collection[str], wanted: Collection[str], store: Store
) -> Iterator[tuple[str, Stray]]:
    """Yield folders with YAML files in them whose names look like one of `wanted` (`jobs`, `blocks`), with that one."""
    for name in sorted(names):
        path, plain = root / name, _plainly(name)
        meant = _FOLDERS.get(plain) or next((each for each in wanted if _is_swap(plain, each)), None)
        if meant is None or meant not in wanted or name == meant or is_leftover(name) or not store.is_folder(path):
            continue
        faults: list[Stray] = []
        if next(yaml_below(path, faults, store), None) or faults:
            hint = None if meant in names else f"name the folder '{meant}'"
            yield meant, Stray(path, "nothing in this folder is read", hint)


def odd_folders(root: Path, names: Collection[str], library: Collection[str], store: Store) -> Iterator[Stray]:
    """Yield folders directly in a guide that look like a part of it, and are not read or cannot be."""
    if "images" in names:
        yield from _odd_pictures(root / "images", store)
    for name in sorted(names):
        path = root / name
        if name in ("jobs", "blocks", "images") or is_leftover(name) or not store.is_folder(path):
            continue
        if store.leads_out(path, root) or store.identity(path) == store.identity(root):
            continue
        inside = _names(path, store)
        if _plainly(name) == "shared" and is_library(inside, library):
            yield Stray(path, "nothing in this folder is read", "move it out of the guide, beside it")
        elif "guide.yaml" in inside and "machine.yaml" in inside:
            yield Stray(path, "this is a guide in a guide, and is not read", "move it out of this guide")


_PICTURES = (".svg", ".png", ".jpg", ".jpeg")


def _odd_pictures(folder: Path, store: Store) -> Iterator[Stray]:
    try:
        names = store.names(folder)
    except NotReadError as error:
        yield Stray(folder, f"the folder cannot be read: {error}", unread=True)
        return
    for name in names:
        path = folder / name
        if name.lower().endswith(_PICTURES) and not is_leftover(name):
            try:
                store.examine(path, LARGEST_PICTURE)
            except NotReadError as error:
                yield Stray(path, f"the file cannot be read: {error}", unread=True)


def _is_swap(word: str, name: str) -> bool:
    return len(word) == len(name) and distance(word, name) == 1


def is_library(names: Collection[str], library: Collection[str]) -> bool:
    """Tell from the names in a folder `shared` whether it is a library, be it with slips in its names."""
    return any(looks_like(name, library, near=False) for name in names)


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
        page = _LIKE_PAGE.fullmatch(_plainly(name))
        if is_leftover(name) or page is None:
            continue
        if not name.endswith(".md"):
            key = name[: len(page[1])]
            hint = None if f"{key}.md" in names else f"name it '{printable(key)}.md'"
            found.strays.append(Stray(path, "this page is not read", hint))
        elif printable(name) != name:
            found.strays.append(Stray(path, "the name of this page is no plain text", "give it another name"))
        else:
            found.files.append(path)
