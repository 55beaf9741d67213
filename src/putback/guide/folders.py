"""What lies in the folders of a guide: the files that are read, and what only looks as if it were meant to be.

What is told of as not read (`hazards.yml`, `Jobs/`) is taken for what it was meant for, as far as it can be read, so
that what follows from the slip is not told as well.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

from putback.guide.slips import (
    folder_name,
    is_leftover,
    is_library,
    is_yaml,
    looks_like,
    sequence_name,
    stands_in,
)
from putback.source.intake import LARGEST_PICTURE, LONGEST_PATH, NotReadError, Store
from putback.source.plainly import printable
from putback.source.renamed import new_name, now_called

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


def choose(folder: Path, names: Collection[str], wanted: Collection[str], store: Store) -> Contents:
    """Return which file stands for each of `wanted`, and what only looks like one of them."""
    found = Contents({name: folder / f"{name}.yaml" for name in wanted if f"{name}.yaml" in names})
    exact = set(found.files)
    missing = [name for name in wanted if name not in exact]
    for name in sorted(names):
        key = looks_like(name, wanted) or stands_in(name, missing)
        now = None if key else _new_name(name, wanted)
        key = key or now
        path = folder / name
        if key is None or name == f"{key}.yaml" or ("." not in name and store.is_folder(path)):
            continue
        if key not in exact:
            found.files.setdefault(key, path)
            message = now_called(name, f"{key}.yaml") if now else "this file is not read"
            found.strays.append(Stray(path, message, f"name it '{key}.yaml'"))
        elif looks_like(name, wanted, near=False) or key not in ("guide", "machine"):
            found.strays.append(Stray(path, f"this file is not read: {key}.yaml is"))
    return found


def _new_name(name: str, wanted: Collection[str]) -> str | None:
    """Return what a file with an old name is called now, without its ending."""
    now = new_name("file", name.partition(".")[0]) if is_yaml(name) else None
    return now if now in wanted else None


def sequences_in(folder: Path, store: Store) -> Contents:
    """Return the files of `jobs` or `blocks`: what is directly in it with the ending `.yaml`, whatever it is."""
    found, kind = Contents(), folder_name(folder.name) or folder.name
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
                found.strays.append(Stray(path, "the name of this file is not plain text", "give it another name"))
    for name in names:
        path = folder / name
        key = sequence_name(name)
        if is_leftover(name) or name.endswith(".yaml"):
            continue
        if key and ("." in name or not store.is_folder(path)):
            taken = key in found.files
            hint = None if taken else f"name it '{printable(key)}.yaml'"
            words = f"this file is not read: {printable(key)}.yaml is" if taken else "this file is not read"
            found.files.setdefault(key, path)
            found.strays.append(Stray(path, words, hint))
        elif store.leads_out(path, folder):
            # All that lies elsewhere is not searched, and what leads upwards leads round.
            upwards = store.identity(path) in {store.identity(above) for above in folder.parents}
            if not upwards and any(is_yaml(inner) for inner in _names(path, store)):
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
            if is_yaml(name):
                yield inner / name


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

    Nothing below a folder is looked at whose names are `closed`, and none that was `seen` (by its identity). No link is
    followed that leads out of `within` (the folder itself when not given); of one to a folder that is `closed`, it is
    told.
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
            faults.append(Stray(folder, f"more than {MOST_FOLDERS:,} folders: the rest is ignored", unread=True))
            return
        yield folder, names
        if closed(names):
            continue
        below = _folders_among(folder, names, store)
        inside = [path for path in below if not store.leads_out(path, within or top)]
        waiting += reversed(inside)
        faults += [_elsewhere(path) for path in below if path not in inside and closed(_names(path, store))]


def _folders_among(folder: Path, names: Collection[str], store: Store) -> list[Path]:
    """Return the folders directly in a folder, but the hidden ones and those of a package manager."""
    inner = (folder / name for name in names if not name.startswith(".") and name != "node_modules")
    # What lies too deep is no folder to the system; to list it fails, and is told.
    return [path for path in inner if store.is_folder(path) or len(os.fsencode(path)) >= LONGEST_PATH]


def _elsewhere(path: Path) -> Stray:
    message = "nothing in this folder is read: it is a link that leads elsewhere"
    return Stray(path, message, "name the folder that it leads to as well", unread=True)


def misnamed_folders(
    root: Path, names: Collection[str], wanted: Collection[str], store: Store
) -> Iterator[tuple[str, Stray]]:
    """Yield folders with YAML files in them whose names look like one of `wanted` (`jobs`, `blocks`), with that one."""
    for name in sorted(names):
        path, meant = root / name, folder_name(name)
        if meant is None or meant not in wanted or name == meant or not store.is_folder(path):
            continue
        faults: list[Stray] = []
        if next(yaml_below(path, faults, store), None) or faults:
            hint = None if meant in names else f"name the folder '{meant}'"
            yield meant, Stray(path, "nothing in this folder is read", hint)


def odd_folders(root: Path, names: Collection[str], library: Collection[str], store: Store) -> Iterator[Stray]:
    """Yield folders directly in a guide that look like a part of it, and are not read or cannot be."""
    images = root / "images"
    # Of pictures that lie elsewhere, it is told where they are shown; here, they are not even opened.
    if "images" in names and not (store.is_folder(images) and store.leads_out(images, root)):
        yield from _odd_pictures(images, store)
    for name in sorted(names):
        path = root / name
        if name in ("jobs", "blocks", "images") or is_leftover(name) or not store.is_folder(path):
            continue
        if store.leads_out(path, root) or store.identity(path) == store.identity(root):
            continue
        inside = _names(path, store)
        if name.casefold() == "shared" and is_library(inside, library):
            yield Stray(path, "nothing in this folder is read", "move it out of the guide")
        elif "guide.yaml" in inside and "machine.yaml" in inside:
            yield Stray(path, "this is a guide inside a guide, so it is not read", "move it out of this guide")


_PICTURES = (".svg", ".png", ".jpg", ".jpeg")


def _odd_pictures(folder: Path, store: Store) -> Iterator[Stray]:
    try:
        names = store.names(folder)
    except NotReadError as error:
        yield Stray(folder, f"the folder cannot be read: {error}", unread=True)
        return
    for name in names:
        path = folder / name
        elsewhere = store.leads_out(path, folder.parent) and store.is_file(path)
        if name.lower().endswith(_PICTURES) and not is_leftover(name) and not elsewhere:
            try:
                store.examine(path, LARGEST_PICTURE)
            except NotReadError as error:
                yield Stray(path, f"the file cannot be read: {error}", unread=True)
