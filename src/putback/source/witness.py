"""What was asked of the files of a guide, and what they answered.

Whatever is worked out from the answers alone is worked out the same again as long as the answers are the same. So a
`Witness` that stood between the files and all that was worked out from them says later whether that still holds: not
only what is in each file, but also which names a folder has, and what was looked for and was not there. An answer about
what is in a file is the digest of the very bytes that were handed out.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TypeAlias

from putback.source.facts import Facts
from putback.source.intake import LARGEST, NotReadError, Store

Question: TypeAlias = tuple[str, str, str | int]
"""What was asked: the name of the question, the path, and what more it takes (else 0)."""

Answered: TypeAlias = tuple[str, str, str | int, str]
"""A question with its answer."""


class Witness:
    """A store that hands out what another one has, and keeps what it was asked and answered."""

    def __init__(self, store: Store) -> None:
        self.store = store
        self.answers: dict[Question, str] = {}
        self.identities: dict[object, str] = {}
        self.steady = True
        """Whether every question that was asked twice had the same answer."""

    @property
    def answered(self) -> tuple[Answered, ...]:
        """All questions with their answers, in the order in which they were asked first."""
        return tuple((*question, answer) for question, answer in self.answers.items())

    def note(self, name: str, path: Path, answer: str, more: str | int = 0) -> None:
        """Keep an answer."""
        if self.answers.setdefault((name, str(path), more), answer) != answer:
            self.steady = False

    def read(self, path: Path, largest: int = LARGEST) -> bytes:
        """Return the bytes of a file. Raises `NotReadError`."""
        try:
            data = self.store.read(path, largest)
        except NotReadError as error:
            self.note("read", path, _refused(error), largest)
            raise
        self.note("read", path, _digest(data), largest)
        return data

    def examine(self, path: Path, largest: int = LARGEST) -> None:
        """Raise `NotReadError` when a file cannot be read, without reading it."""
        try:
            self.store.examine(path, largest)
        except NotReadError as error:
            self.note("examine", path, _refused(error), largest)
            raise
        self.note("examine", path, "", largest)

    def names(self, folder: Path) -> list[str]:
        """Return the names in a folder, sorted. Raises `NotReadError`."""
        try:
            names = self.store.names(folder)
        except NotReadError as error:
            self.note("names", folder, _refused(error))
            raise
        self.note("names", folder, _listed(names))
        return names

    def is_there(self, path: Path) -> bool:
        """Tell whether something has this path, be it only a link to nowhere."""
        return self._told("is_there", path, self.store.is_there(path))

    def is_folder(self, path: Path) -> bool:
        """Tell whether a path is a folder, through links."""
        return self._told("is_folder", path, self.store.is_folder(path))

    def is_file(self, path: Path) -> bool:
        """Tell whether a path is a regular file, through links."""
        return self._told("is_file", path, self.store.is_file(path))

    def leads_out(self, path: Path, top: Path) -> bool:
        """Tell whether a path is a link to something that does not lie in `top`."""
        found = self.store.leads_out(path, top)
        self.note("leads_out", path, str(found), str(top))
        return found

    def facts(self, path: Path) -> Facts:
        """Return what a path leads to."""
        found = self.store.facts(path)
        self.note("facts", path, str(tuple(found)))
        return found

    def identity(self, path: Path) -> object:
        """Return what is the same for every way that leads to a folder.

        Only that matters, and not the number that a disk gives it: so the answer is the first path that leads there.
        """
        found = self.store.identity(path)
        self.note("identity", path, self.identities.setdefault(found, str(path)))
        return found

    def _told(self, name: str, path: Path, answer: bool) -> bool:
        self.note(name, path, str(answer))
        return answer


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _refused(error: NotReadError) -> str:
    return f"refused: {error}"


def _listed(names: list[str]) -> str:
    # No name has this character in it, on any system.
    return _digest("\0".join(names).encode("utf-8", "surrogateescape"))


class Recall:
    """Asks again what witnesses were asked; what several of them were asked, once."""

    def __init__(self, store: Store) -> None:
        self.store = store
        self.known: dict[Question, str] = {}
        self.identities: dict[str, object] = {}

    def holds(self, answered: Iterable[Answered]) -> bool:
        """Tell whether every question still has its answer."""
        first: dict[object, str] = {}
        for name, path, more, answer in answered:
            if name == "identity":
                if path not in self.identities:
                    self.identities[path] = self.store.identity(Path(path))
                now = first.setdefault(self.identities[path], path)
            else:
                question = (name, path, more)
                if question not in self.known:
                    self.known[question] = self._ask(name, path, more)
                now = self.known[question]
            if now != answer:
                return False
        return True

    def _ask(self, name: str, path: str, more: str | int) -> str:
        ask = _QUESTIONS.get(name)
        if ask is None:
            raise ValueError(f"no question is called {name!r}")
        try:
            return ask(self.store, Path(path), more)
        except NotReadError as error:
            return _refused(error)


def _examined(store: Store, path: Path, more: str | int) -> str:
    store.examine(path, int(more))
    return ""


_QUESTIONS: dict[str, Callable[[Store, Path, str | int], str]] = {
    "read": lambda store, path, more: _digest(store.read(path, int(more))),
    "examine": _examined,
    "names": lambda store, path, _: _listed(store.names(path)),
    "is_there": lambda store, path, _: str(store.is_there(path)),
    "is_folder": lambda store, path, _: str(store.is_folder(path)),
    "is_file": lambda store, path, _: str(store.is_file(path)),
    "leads_out": lambda store, path, more: str(store.leads_out(path, Path(str(more)))),
    "facts": lambda store, path, _: str(tuple(store.facts(path))),
}
"""How a question is asked again."""
