"""A guide's folder, read as a whole: cover, machine, jobs, blocks, library."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from collections.abc import Mapping as MappingABC
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path

from putback.guide.folders import Stray, choose, misnamed_folders, odd_folders, pages_in, sequences_in
from putback.guide.library import FILES, find_library, folder_for, merged, read_shelf
from putback.guide.slips import holds_guide
from putback.model.build_job import build_block, build_job
from putback.model.build_machine import build_machine
from putback.model.cover import Cover, build_cover
from putback.model.job import Block, Job, Sequence
from putback.model.library import Library
from putback.model.machine import Machine
from putback.source.decoding import decode
from putback.source.finding import Finding, Level
from putback.source.intake import Disk, NotReadError, Store, list_names, resolved
from putback.source.load import Loaded, Mapping, load
from putback.source.plainly import printable
from putback.source.schema import FileKind, review
from putback.source.span import top_of


@dataclass(slots=True)
class Guide:
    """One machine, its jobs and all that they call by name."""

    root: Path
    """Its folder."""
    shown: str
    """The folder as the user would name it."""
    cover: Cover | None = None
    machine: Machine | None = None
    jobs: dict[str, Job] = field(default_factory=dict)
    blocks: dict[str, Block] = field(default_factory=dict)
    """The guide's own blocks; `library.blocks` has these and the shared ones."""
    library: Library = field(default_factory=Library)
    faults: list[Finding] = field(default_factory=list)
    """What was wrong with the files: all that was found before any check."""
    files: list[str] = field(default_factory=list)
    """Every file read, as shown."""
    sources: dict[str, Loaded] = field(default_factory=dict)
    """The text and the tree of each YAML file that was understood, as shown."""
    pages: dict[str, str] = field(default_factory=dict)
    """The text of each prose page, as shown."""
    unread: set[str] = field(default_factory=set)
    """Files and folders that could not be read at all, as shown."""
    mended: set[str] = field(default_factory=set)
    """Files with misspelt words that were read as they were meant, as shown."""
    lost_jobs: list[str] = field(default_factory=list)
    """Names of jobs whose file is there and could not be used."""
    lost_blocks: list[str] = field(default_factory=list)
    """Names of the guide's own blocks whose file is there and could not be used."""
    store: Store = field(default_factory=Disk)
    """Where its files are."""

    @property
    def misses_jobs(self) -> bool:
        """Whether there are, or may be, jobs that could not be used."""
        return bool(self.lost_jobs) or shown_path(self.root / "jobs") in self.unread

    @property
    def unreadable(self) -> bool:
        """Whether a file could not be read at all."""
        return bool(self.unread)

    def sequences(self) -> Iterator[Sequence]:
        """Yield the jobs, then the guide's own blocks."""
        yield from self.jobs.values()
        yield from self.blocks.values()

    @property
    def images(self) -> Path:
        """The folder of its pictures."""
        return self.root / "images"


def shown_path(path: Path) -> str:
    """Return a path as a user in the current folder would write it; what cannot be shown in it, as escapes."""
    try:
        relative = os.path.relpath(path)
    except (ValueError, OSError):  # another drive, or no current folder
        return printable(str(path))
    return printable(str(path) if relative.startswith("..") else Path(relative).as_posix())


def is_guide(folder: Path) -> bool:
    """Tell whether a folder is a guide: guide.yaml or machine.yaml is in it, be it with a slip in its name."""
    if any(os.path.lexists(folder / name) for name in ("guide.yaml", "machine.yaml")):
        return True
    try:
        return holds_guide(list_names(folder))
    except NotReadError:
        return False


def guide_of(path: Path) -> Path | None:
    """Return the guide folder that a file or folder lies in, itself included."""
    path = resolved(path)
    folders = [folder for folder in (path, *path.parents) if Disk().is_folder(folder)]
    for folder in folders:
        if any(os.path.lexists(folder / name) for name in ("guide.yaml", "machine.yaml")):
            return folder
    return next((folder for folder in folders if is_guide(folder)), None)


class _Intake:
    """Loads and validates the files of a guide, gathering what is wrong."""

    def __init__(self, guide: Guide) -> None:
        self.guide = guide
        self.lost: set[str] = set()
        self.broken: set[str] = set()

    def take(self, path: Path, kind: FileKind, store: Store | None = None) -> Loaded | None:
        """Return a file of a good shape, or None when its faults (now noted) leave nothing to build on."""
        loaded = load(path, shown_path(path), store or self.guide.store)
        self.guide.files.append(loaded.path)
        self.guide.faults += loaded.faults
        if loaded.unreadable:
            self.guide.unread.add(loaded.path)
        if loaded.root is None:
            return None
        faults, loaded.root = review(loaded, kind)
        self.guide.faults += faults
        if not isinstance(loaded.root, Mapping):
            return None
        if faults:
            self.guide.mended.add(loaded.path)
        self.guide.sources[loaded.path] = loaded
        return loaded

    def note(self, strays: Iterable[Stray]) -> None:
        """Say what lies in a folder and is not read as it stands."""
        for stray in strays:
            shown = shown_path(stray.path)
            self.guide.faults.append(Finding("unread-file", Level.ERROR, top_of(shown), stray.message, hint=stray.hint))
            if stray.unread:
                self.guide.unread.add(shown)

    def folders(self, top: Path, names: list[str], wanted: tuple[str, ...], store: Store) -> dict[str, Path]:
        """Return the folders that stand for `wanted`: those of that name, else one with a slip in its name (noted)."""
        found = {name: top / name for name in wanted}
        for name, stray in misnamed_folders(top, names, wanted, store):
            self.note([stray])
            if name not in names:
                found[name] = stray.path
        return found

    def blocks(self, folder: Path, store: Store) -> tuple[dict[str, Block], list[str]]:
        """Return the blocks of a folder, and the names of those that could not be used."""
        contents, blocks = sequences_in(folder, store), {}
        self.note(contents.strays)
        lost = sorted(contents.lost)
        if not contents.whole:
            self.broken.add("block")
        for key, path in contents.files.items():
            loaded = self.take(path, FileKind.BLOCK, store)
            if loaded and isinstance(loaded.root, Mapping):
                block, faults = build_block(loaded.root, loaded.path)
                blocks[key] = replace(block, key=key)
                self.guide.faults += faults
            else:
                lost.append(key)
        self.lost.update(lost)
        return blocks, lost


def read_guide(root: Path, edited: MappingABC[Path, str] | None = None, store: Store | None = None) -> Guide:
    """Read a guide's folder.

    All faults of all files are in the result; nothing is raised. `edited` gives text that stands in for files,
    for an editor whose buffers are not saved. `store` is where the files are: on disk when not given. With an
    `intake.Memory`, no folder is needed.
    """
    root = resolved(root)
    guide = Guide(root, shown_path(root), store=store or Disk(edited))
    intake = _Intake(guide)
    try:
        names = guide.store.names(root)
    except NotReadError as error:
        intake.note([Stray(root, f"the folder cannot be read: {error}", unread=True)])
        return guide
    needed = choose(root, names, ("guide", "machine", *FILES), guide.store)
    intake.note(needed.strays)
    own = read_shelf(root, guide.shown, guide.store)
    shared_folder, strays = find_library(root, guide.store)
    intake.note(strays)
    shared_store = guide.store if guide.store.is_there(shared_folder) else Disk()
    shared = read_shelf(shared_folder, shown_path(shared_folder), shared_store)
    intake.note(shared.strays)
    if any(stray.path == shared_folder and stray.unread for stray in strays):
        intake.broken |= {name.removesuffix("s") for name in (*FILES, "blocks")}
    for shelf in (own, shared):
        guide.faults += shelf.faults
        guide.files += shelf.files
        guide.unread |= shelf.unread
        guide.mended |= shelf.mended

    _read_cover(guide, intake, needed.files.get("guide"))
    _read_machine(guide, intake, needed.files.get("machine"))
    folders = intake.folders(root, names, ("jobs", "blocks"), guide.store)
    guide.blocks, guide.lost_blocks = intake.blocks(folders["blocks"], guide.store)
    shared_blocks: dict[str, Block] = {}
    try:
        inside = shared_store.names(shared_folder)
    except NotReadError:  # told where it was looked for
        inside = []
    if inside:
        blocks = intake.folders(shared_folder, inside, ("blocks",), shared_store)["blocks"]
        shared_blocks, _ = intake.blocks(blocks, shared_store)
    _read_jobs(guide, intake, folders["jobs"])
    intake.note(odd_folders(root, names, FILES, guide.store))
    _read_pages(guide, intake, names)
    guide.library = Library(
        **{name: merged(getattr(shared, name), getattr(own, name), guide.faults) for name in FILES},
        blocks=merged(shared_blocks, guide.blocks, guide.faults),
        broken=frozenset(shared.broken | own.broken | intake.broken),
        unlisted=frozenset(shared.unlisted | own.unlisted | intake.broken),
        doubtful=frozenset(shared.doubtful | own.doubtful),
        lost=frozenset(intake.lost),
    )
    return guide


def _read_jobs(guide: Guide, intake: _Intake, folder: Path) -> None:
    contents = sequences_in(folder, guide.store)
    intake.note(contents.strays)
    guide.lost_jobs = sorted(contents.lost)
    for key, path in contents.files.items():
        loaded = intake.take(path, FileKind.JOB)
        if loaded and isinstance(loaded.root, Mapping):
            job, faults = build_job(loaded.root, loaded.path)
            guide.jobs[key] = replace(job, key=key)
            guide.faults += faults
        else:
            guide.lost_jobs.append(key)


def _read_pages(guide: Guide, intake: _Intake, names: list[str]) -> None:
    """Read the prose pages as text: what is in them is looked at only when something is to be compared."""
    pages = pages_in(guide.root, names, guide.store)
    intake.note(pages.strays)
    for path in pages.files:
        shown = shown_path(path)
        if guide.store.leads_out(path, guide.root):
            message, hint = "this is a link that leads outside the guide", "copy the page into the guide"
            guide.faults.append(Finding("unread-file", Level.ERROR, top_of(shown), message, hint=hint))
            guide.unread.add(shown)
            continue
        try:
            page = decode(guide.store.read(path), shown)
        except NotReadError as error:
            page = Finding("unread-file", Level.ERROR, top_of(shown), f"the file cannot be read: {error}")
        if isinstance(page, str):
            guide.pages[shown] = page
        else:
            guide.faults.append(page)
            guide.unread.add(shown)


def _read_cover(guide: Guide, intake: _Intake, path: Path | None) -> None:
    if path is None:
        _missing(guide, "guide.yaml", "write at least 'title: …' in it")
        return
    loaded = intake.take(path, FileKind.GUIDE)
    if not loaded or not isinstance(loaded.root, Mapping):
        return
    guide.cover, faults = build_cover(loaded.root)
    guide.faults += faults


def _read_machine(guide: Guide, intake: _Intake, path: Path | None) -> None:
    if path is None:
        _missing(guide, "machine.yaml", "describe the machine there; `putback new` shows how")
        return
    loaded = intake.take(path, FileKind.MACHINE)
    if loaded and isinstance(loaded.root, Mapping):
        guide.machine, faults = build_machine(loaded.root, loaded.path)
        guide.faults += faults


def _missing(guide: Guide, name: str, hint: str) -> None:
    shown = shown_path(guide.root / name)
    guide.faults.append(Finding("no-file", Level.ERROR, top_of(shown), f"this guide has no {name}", hint=hint))
    guide.unread.add(shown)


@cache
def cached_guide(root: Path, stamp: tuple[tuple[str, int, int], ...]) -> Guide:
    """Return a guide, read once for each state of its files (`stamp_of`)."""
    del stamp
    return read_guide(root)


def stamp_of(root: Path) -> tuple[tuple[str, int, int], ...]:
    """Return names, times (ns) and sizes (bytes) of everything in the folders that a guide is read from."""
    shared, disk = folder_for(root), Disk()
    paths: list[Path] = []
    for folder in (root, root / "jobs", root / "blocks", shared, shared / "blocks"):
        try:
            names = list_names(folder)
        except NotReadError:
            continue
        paths += [folder / name for name in names]
        if folder == root:
            paths += [path for path in pages_in(root, names, disk).files if path.parent != root]
    found = []
    for path in paths:
        try:
            facts = path.stat()
        except OSError:  # a link to nowhere
            found.append((str(path), -1, -1))
        else:
            found.append((str(path), facts.st_mtime_ns, facts.st_size))
    return tuple(found)
