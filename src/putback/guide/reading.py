"""A guide's folder, read as a whole: cover, machine, jobs, blocks, library."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from putback.guide.folders import Contents, Stray, choose, misnamed_folders, odd_folders, sequences_in
from putback.guide.gathered import Gathered, Top
from putback.guide.library import FILES, Entry, Shelf, find_library, merged, read_shelf
from putback.guide.own_words import in_words_of
from putback.guide.paths import shown_path
from putback.guide.record import Guide
from putback.guide.texts import Pages, catalogues_in, pages_in
from putback.model.build_job import build_block, build_job
from putback.model.build_machine import build_machine
from putback.model.cover import Cover, build_cover
from putback.model.job import Block, Job
from putback.model.library import Library
from putback.model.machine import Machine
from putback.model.symptoms import Symptom, build_symptoms
from putback.source.decoding import decode
from putback.source.finding import Finding, Level
from putback.source.intake import LARGEST, LARGEST_PAGE, Disk, NotReadError, Store, resolved
from putback.source.schema import FileKind
from putback.source.span import top_of
from putback.source.tree import Mapping as Tree

_S = TypeVar("_S", Job, Block)


def read_guide(root: Path, edited: Mapping[Path, str] | None = None, store: Store | None = None) -> Guide:
    """Read a guide's folder.

    All faults of all files are in the result; nothing is raised. `edited` gives text that stands in for files,
    for an editor whose buffers are not saved. `store` is where the files are: on disk when not given. With an
    `intake.Memory`, no folder is needed.
    """
    return _GuideReader(resolved(root), store or Disk(edited)).guide()


class _GuideReader:
    """Reads the files of one guide, in the order in which their faults are told."""

    def __init__(self, root: Path, store: Store) -> None:
        self.root = root
        self.shown = shown_path(root)
        self.store = store
        self.top = Top(root)
        self.gathered = Gathered()
        self.lost: set[str] = set()
        """Names of blocks whose file is there and could not be used."""
        self.broken: set[str] = set()
        """Kinds of entries of the library of which a file could not be used."""

    def guide(self) -> Guide:
        """Read everything."""
        try:
            names = self.store.names(self.root)
        except NotReadError as error:
            self.gathered.note([Stray(self.root, f"the folder cannot be read: {error}", unread=True)])
            return Guide(self.root, self.shown, store=self.store, **self.gathered.as_read())
        needed = choose(self.root, names, ("guide", "machine", "symptoms", *FILES), self.store)
        self.gathered.note(needed.strays)
        own = read_shelf(self.root, self.shown, self.store, self.top.called)
        folder, shared_store, shared = self.shared_shelf()
        for shelf in (own, shared):
            self.gathered.add(shelf.files, shelf.faults, shelf.unread, shelf.mended)
        cover = self.cover(needed.files.get("guide"))
        machine = self.machine(needed.files.get("machine"))
        symptoms = self.symptoms(needed.files.get("symptoms"))
        folders = self.folders(self.root, names, ("jobs", "blocks"), self.store)
        blocks, lost_blocks = self.blocks(folders["blocks"], self.store)
        shared_blocks = self.shared_blocks(folder, shared_store)
        jobs, lost_jobs = self.sequences(folders["jobs"], self.store, FileKind.JOB, build_job)
        self.gathered.note(odd_folders(self.root, names, FILES, self.store))
        pages = self.texts(pages_in(self.root, names, self.store), "page")
        library = self.library(own, in_words_of(shared, cover), blocks, shared_blocks)
        return Guide(
            self.root,
            self.shown,
            cover=cover,
            machine=machine,
            jobs=jobs,
            blocks=blocks,
            symptoms=symptoms,
            library=library,
            pages=pages,
            catalogues=self.texts(catalogues_in(self.root, names, self.store), "catalogue"),
            lost_jobs=tuple(lost_jobs),
            lost_blocks=tuple(lost_blocks),
            store=self.store,
            **self.gathered.as_read(),
        )

    def take(self, path: Path, kind: FileKind) -> Tree | None:
        """Return the tree of a file of the guide itself; None when its faults (now noted) leave nothing of it."""
        return self.gathered.load(path, shown_path(path), kind, self.store, self.top)

    def cover(self, path: Path | None) -> Cover | None:
        """Read guide.yaml."""
        if path is None:
            self.missing("guide.yaml", "write at least 'title: …' in it")
            return None
        tree = self.take(path, FileKind.GUIDE)
        if tree is None:
            return None
        cover, faults = build_cover(tree)
        self.gathered.faults += faults
        return cover

    def machine(self, path: Path | None) -> Machine | None:
        """Read machine.yaml."""
        if path is None:
            self.missing("machine.yaml", "describe the machine there; `putback new` shows how")
            return None
        tree = self.take(path, FileKind.MACHINE)
        if tree is None:
            return None
        machine, faults = build_machine(tree, tree.span.path)
        self.gathered.faults += faults
        return machine

    def symptoms(self, path: Path | None) -> dict[str, Symptom]:
        """Read symptoms.yaml; a guide need not have one."""
        tree = self.take(path, FileKind.SYMPTOMS) if path is not None else None
        if tree is None:
            return {}
        symptoms, faults = build_symptoms(tree)
        self.gathered.faults += faults
        return symptoms

    def missing(self, name: str, hint: str) -> None:
        """Say that a file is not there which every guide needs."""
        shown = shown_path(self.root / name)
        self.gathered.faults.append(
            Finding("no-file", Level.ERROR, top_of(shown), f"this guide has no {name}", hint=hint)
        )
        self.gathered.unread.add(shown)

    def folders(self, top: Path, names: list[str], wanted: tuple[str, ...], store: Store) -> dict[str, Path]:
        """Return the folders that stand for `wanted`: those of that name, else one with a slip in its name (noted)."""
        found = {name: top / name for name in wanted}
        for name, stray in misnamed_folders(top, names, wanted, store):
            self.gathered.note([stray])
            if name not in names:
                found[name] = stray.path
        return found

    def sequences(
        self, folder: Path, store: Store, kind: FileKind, build: Callable[[Tree, str], tuple[_S, list[Finding]]]
    ) -> tuple[dict[str, _S], list[str]]:
        """Return the jobs or blocks of a folder, and the names of those that could not be used."""
        top = self.top if folder.parent == self.root else Top(folder.parent, "the library")
        stray, found = top.stray(folder, "folder", store), dict[str, _S]()
        contents = Contents(strays=[stray], whole=False) if stray else sequences_in(folder, store)
        self.gathered.note(contents.strays)
        lost = sorted(contents.lost)
        if kind is FileKind.BLOCK and not contents.whole:
            self.broken.add("block")
        for key, path in contents.files.items():
            tree = self.gathered.load(path, shown_path(path), kind, store, top)
            if tree is None:
                lost.append(key)
                continue
            sequence, faults = build(tree, tree.span.path)
            found[key] = replace(sequence, key=key)
            self.gathered.faults += faults
        return found, lost

    def blocks(self, folder: Path, store: Store) -> tuple[dict[str, Block], list[str]]:
        """Return the blocks of a folder, and the names of those that could not be used."""
        blocks, lost = self.sequences(folder, store, FileKind.BLOCK, build_block)
        self.lost.update(lost)
        return blocks, lost

    def shared_shelf(self) -> tuple[Path, Store, Shelf]:
        """Return the folder of the library, where it is, and what is in it."""
        folder, strays = find_library(self.root, self.store)
        self.gathered.note(strays)
        store = self.store if self.store.is_there(folder) else Disk()
        shared = read_shelf(folder, shown_path(folder), store)
        self.gathered.note(shared.strays)
        if any(stray.path == folder and stray.unread for stray in strays):
            self.broken |= {name.removesuffix("s") for name in (*FILES, "blocks")}
        return folder, store, shared

    def shared_blocks(self, folder: Path, store: Store) -> dict[str, Block]:
        """Return the blocks of the library."""
        try:
            inside = store.names(folder)
        except NotReadError:  # told where it was looked for
            return {}
        if not inside:
            return {}
        return self.blocks(self.folders(folder, inside, ("blocks",), store)["blocks"], store)[0]

    def library(self, own: Shelf, shared: Shelf, blocks: dict[str, Block], shared_blocks: dict[str, Block]) -> Library:
        """Return what is the guide's own and what is shared, together."""
        return Library(
            cautions=self.together(shared.cautions, own.cautions),
            hazards=self.together(shared.hazards, own.hazards),
            tools=self.together(shared.tools, own.tools),
            consumables=self.together(shared.consumables, own.consumables),
            equipment=self.together(shared.equipment, own.equipment),
            blocks=self.together(shared_blocks, blocks),
            broken=frozenset(shared.broken | own.broken | self.broken),
            unlisted=frozenset(shared.unlisted | own.unlisted | self.broken),
            doubtful=shared.doubtful | own.doubtful,
            lost=frozenset(self.lost),
        )

    def together(self, shared: Mapping[str, Entry], own: Mapping[str, Entry]) -> dict[str, Entry]:
        """Return both together; a name that stands in both is noted."""
        both, faults = merged(shared, own)
        self.gathered.faults += faults
        return both

    def texts(self, found: Pages, what: str) -> dict[str, str]:
        """Read prose pages or catalogues as text: what is in them is looked at only when somebody asks."""
        self.gathered.note(found.strays)
        texts: dict[str, str] = {}
        for path in found.files:
            shown = shown_path(path)
            if stray := self.top.stray(path, what, self.store):
                self.gathered.refuse(shown, stray.message, stray.hint)
                continue
            try:
                text = decode(self.store.read(path, LARGEST if what == "catalogue" else LARGEST_PAGE), shown)
            except NotReadError as error:
                self.gathered.refuse(shown, f"the file cannot be read: {error}")
                continue
            if isinstance(text, Finding):
                self.gathered.faults.append(text)
                self.gathered.unread.add(shown)
            else:
                texts[shown] = text
        return texts
