"""A guide's folder, read as a whole: cover, machine, jobs, blocks, library."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from putback.finding import Finding, Level
from putback.library import FILES, Library, folder_for, merged, read_shelf
from putback.load import Loaded, Mapping, load, load_text
from putback.model.build_job import build_block, build_job
from putback.model.build_machine import build_machine
from putback.model.job import Block, Job, Sequence
from putback.model.machine import Machine
from putback.model.reading import Reader
from putback.model.terms import Acceptance
from putback.prose import decode
from putback.schema import FileKind, validate
from putback.span import top_of
from putback.variants import Choice
from putback.within import fault_of_page


@dataclass(frozen=True, slots=True)
class Cover:
    """What guide.yaml says."""

    title: str
    """The title of the book."""
    subtitle: str | None = None
    edition: str | None = None
    date: str | None = None
    """As 2026-11-25."""
    authors: tuple[str, ...] = ()
    licence: str | None = None
    units: tuple[str, ...] = ("metric", "us")
    """The system printed first, and the one printed second if any."""
    language: str = "en"
    notice: str | None = None
    """A statement for the cover."""
    accept: tuple[Acceptance, ...] = ()


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
    unreadable: bool = False
    """Whether a file could not be read at all."""
    only: Choice = ()
    """The options that were chosen on the command line: what is checked and printed is for these."""

    def sequences(self) -> Iterator[Sequence]:
        """Yield the jobs, then the guide's own blocks."""
        yield from self.jobs.values()
        yield from self.blocks.values()

    @property
    def images(self) -> Path:
        """The folder of its pictures."""
        return self.root / "images"


def shown_path(path: Path) -> str:
    """Return a path as a user in the current folder would write it."""
    try:
        relative = os.path.relpath(path)
    except ValueError:  # another drive
        return str(path)
    return str(path) if relative.startswith("..") else Path(relative).as_posix()


def is_guide(folder: Path) -> bool:
    """Tell whether a folder is a guide: it has a guide.yaml or a machine.yaml."""
    return (folder / "guide.yaml").is_file() or (folder / "machine.yaml").is_file()


def guide_of(path: Path) -> Path | None:
    """Return the guide folder that a file or folder lies in, itself included."""
    path = path.resolve()
    for folder in (path, *path.parents):
        if folder.is_dir() and is_guide(folder):
            return folder
    return None


class _Intake:
    """Loads and validates the files of a guide, gathering what is wrong."""

    def __init__(self, guide: Guide, edited: dict[Path, str]) -> None:
        self.guide = guide
        self.edited = edited

    def shown(self, path: Path) -> str:
        return shown_path(path)

    def take(self, path: Path, kind: FileKind) -> Loaded | None:
        """Return a file of a good shape, or None when its faults (now noted) leave nothing to build on."""
        shown = self.shown(path)
        loaded = load_text(self.edited[path], shown) if path in self.edited else load(path, shown)
        self.guide.files.append(loaded.path)
        self.guide.faults += loaded.faults
        self.guide.unreadable |= loaded.unreadable
        if loaded.root is None:
            return None
        faults = validate(loaded, kind)
        self.guide.faults += faults
        if faults or loaded.faults or not isinstance(loaded.root, Mapping):
            return None
        self.guide.sources[loaded.path] = loaded
        return loaded


def read_guide(root: Path, edited: dict[Path, str] | None = None) -> Guide:
    """Read a guide's folder.

    All faults of all files are in the result; nothing is raised. `edited` gives text that stands in for files,
    for an editor whose buffers are not saved.
    """
    root = root.resolve()
    guide = Guide(root, shown_path(root))
    intake = _Intake(guide, edited or {})
    own = read_shelf(root, guide.shown)
    shared_folder = folder_for(root)
    shared = read_shelf(shared_folder, shown_path(shared_folder))
    guide.faults += own.faults + shared.faults
    guide.files += own.files + shared.files
    guide.unreadable |= own.unreadable or shared.unreadable

    _read_cover(guide, intake)
    _read_machine(guide, intake)
    for path in yaml_files(root / "blocks"):
        loaded = intake.take(path, FileKind.BLOCK)
        if loaded and isinstance(loaded.root, Mapping):
            block, faults = build_block(loaded.root, loaded.path)
            guide.blocks[block.key] = block
            guide.faults += faults
    shared_blocks = {}
    for path in yaml_files(shared_folder / "blocks"):
        loaded = intake.take(path, FileKind.BLOCK)
        if loaded and isinstance(loaded.root, Mapping):
            block, faults = build_block(loaded.root, loaded.path)
            shared_blocks[block.key] = block
            guide.faults += faults
    for path in yaml_files(root / "jobs"):
        loaded = intake.take(path, FileKind.JOB)
        if loaded and isinstance(loaded.root, Mapping):
            job, faults = build_job(loaded.root, loaded.path)
            guide.jobs[job.key] = job
            guide.faults += faults
    _note_unread(guide)
    _read_pages(guide, intake.edited)
    guide.library = Library(
        **{name: merged(getattr(shared, name), getattr(own, name), guide.faults) for name in FILES},
        blocks=merged(shared_blocks, guide.blocks, guide.faults),
        broken=frozenset(shared.broken | own.broken),
    )
    return guide


def _read_pages(guide: Guide, edited: dict[Path, str]) -> None:
    """Read the prose pages as text: what is in them is looked at only when something is to be compared."""
    for path in sorted(guide.root.glob("*.md")):
        if path.name.startswith((".", "~")) or path.is_dir():
            continue
        shown = shown_path(path)
        if path not in edited and (fault := fault_of_page(path, guide.root)):
            guide.faults.append(Finding("unread-file", Level.ERROR, top_of(shown), fault[0], hint=fault[1]))
            guide.unreadable = True
            continue
        try:
            page = edited[path] if path in edited else decode(path.read_bytes(), shown)
        except OSError as error:
            reason = (error.strerror or type(error).__name__).lower()
            page = Finding("unread-file", Level.ERROR, top_of(shown), f"the file cannot be read: {reason}")
        if isinstance(page, str):
            guide.pages[shown] = page
        else:
            guide.faults.append(page)
            guide.unreadable = True


def yaml_files(folder: Path) -> list[Path]:
    """Return the YAML files of a folder by name, without those that an editor keeps while it is at work."""
    return sorted(path for path in folder.glob("*.yaml") if not path.name.startswith((".", "~")))


def _note_unread(guide: Guide) -> None:
    """Say which files look like part of the guide and are not read: a job that nobody checks must not seem proved."""
    for name in ("jobs", "blocks"):
        folder = guide.root / name
        if folder.is_dir() and not os.access(folder, os.R_OK | os.X_OK):
            span = top_of(shown_path(folder))
            guide.faults.append(Finding("not-yaml", Level.ERROR, span, "the folder cannot be read: permission denied"))
            guide.unreadable = True
            continue
        for path in sorted(folder.rglob("*")) if folder.is_dir() else ():
            if path.suffix.lower() in (".yaml", ".yml") and not path.name.startswith((".", "~")) and path.is_file():
                if path.parent != folder:
                    _unread(guide, path, f"move it into {name}/ itself")
                elif path.suffix != ".yaml":
                    _unread(guide, path, f"name it '{path.stem}.yaml'")
    known = {"guide", "machine", *FILES}
    for path in sorted(guide.root.iterdir()):
        stem = path.stem.lower()
        if path.is_dir() and path.name not in ("jobs", "blocks"):
            wanted = {"job": "jobs", "jobs": "jobs", "block": "blocks", "blocks": "blocks"}.get(path.name.lower())
            if wanted and any(path.glob("*.y*ml")):
                _unread(guide, path, f"name the folder '{wanted}'")
        elif path.suffix.lower() in (".yaml", ".yml") and stem in known and path.name != f"{stem}.yaml":
            _unread(guide, path, f"name it '{stem}.yaml'")


def _unread(guide: Guide, path: Path, hint: str) -> None:
    what = "nothing in this folder is read" if path.is_dir() else "this file is not read"
    guide.faults.append(Finding("unread-file", Level.ERROR, top_of(shown_path(path)), what, hint=hint))


def _read_cover(guide: Guide, intake: _Intake) -> None:
    path = guide.root / "guide.yaml"
    if not path.is_file() and path not in intake.edited:
        _missing(guide, path, "guide.yaml", "write at least 'title: …' in it")
        return
    loaded = intake.take(path, FileKind.GUIDE)
    if not loaded or not isinstance(loaded.root, Mapping):
        return
    reader, root = Reader(), loaded.root
    guide.cover = Cover(
        title=reader.text(root.get("title")) or "",
        subtitle=reader.text(root.get("subtitle")),
        edition=reader.text(root.get("edition")),
        date=reader.text(root.get("date")),
        authors=reader.texts(root.get("authors")),
        licence=reader.text(root.get("licence")),
        units=reader.texts(root.get("units")) or ("metric", "us"),
        language=reader.text(root.get("language")) or "en",
        notice=reader.text(root.get("notice")),
        accept=reader.accept(root.get("accept")),
    )
    guide.faults += reader.faults


def _read_machine(guide: Guide, intake: _Intake) -> None:
    path = guide.root / "machine.yaml"
    if not path.is_file() and path not in intake.edited:
        _missing(guide, path, "machine.yaml", "describe the machine there; `putback new` shows how")
        return
    loaded = intake.take(path, FileKind.MACHINE)
    if loaded and isinstance(loaded.root, Mapping):
        guide.machine, faults = build_machine(loaded.root, loaded.path)
        guide.faults += faults


def _missing(guide: Guide, path: Path, name: str, hint: str) -> None:
    guide.faults.append(
        Finding("no-file", Level.ERROR, top_of(shown_path(path)), f"this guide has no {name}", hint=hint)
    )
    guide.unreadable = True


@cache
def cached_guide(root: Path, stamp: tuple[tuple[str, int, int], ...]) -> Guide:
    """Return a guide, read once for each state of its files (`stamp_of`)."""
    del stamp
    return read_guide(root)


def stamp_of(root: Path) -> tuple[tuple[str, int, int], ...]:
    """Return names, times (ns) and sizes (bytes) of every file that a guide is read from."""
    folders = (root, root / "jobs", root / "blocks")
    shared = folder_for(root)
    found = []
    for folder in (*folders, shared, shared / "blocks"):
        for path in sorted([*folder.glob("*.yaml"), *(root.glob("*.md") if folder == root else ())]):
            try:
                facts = path.stat()
            except OSError:  # a link to nowhere
                continue
            found.append((str(path), facts.st_mtime_ns, facts.st_size))
    return tuple(found)
