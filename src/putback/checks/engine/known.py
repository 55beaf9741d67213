"""A check that was found, and whether its module is one: a name that is misspelt must not be a check left out."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from types import FunctionType, ModuleType
from typing import cast

from putback.checks.engine.form import KINDS, STAGES, Described, Fault, Group
from putback.ledger.opened import Opened
from putback.source.finding import Level
from putback.source.late import Late
from putback.source.nearest import nearest

_NAME = Late(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_SOURCES = Late(r"Sources?:")
_NEEDED = ("LEVEL", "GROUP", "FAILS", "PASSES")
_RIGHT = {
    "LEVEL": "one of Level.ERROR, Level.WARNING and Level.ADVICE",
    "GROUP": f"one of {', '.join(f'Group.{group.name}' for group in Group)}",
    "FAILS": "an example as text, with carets under what is wrong",
    "PASSES": "an example as text, in which nothing is wrong",
    "INJURES": "True or False",
    "NEEDS": f"a frozenset of some of {', '.join(sorted(KINDS))}",
    "STAGE": f"one of {', '.join(sorted(STAGES))}",
    "find": "a function of one argument, the opened guide, that yields Faults",
}
"""What each name stands for."""


@dataclass(frozen=True, slots=True)
class KnownCheck:
    """A check that was found and is as it must be."""

    name: str
    """Its name, as in messages."""
    module: Described
    """Its module."""
    package: str | None = None
    """The package that brings it; None for Putback itself."""

    @property
    def level(self) -> Level:
        """How much its findings matter."""
        return self.module.LEVEL

    @property
    def group(self) -> Group:
        """What it is about."""
        return self.module.GROUP

    @property
    def file(self) -> str:
        """Where its module lies."""
        return str(getattr(self.module, "__file__", ""))

    @property
    def text(self) -> str:
        """What is wrong, why it matters, what to do instead."""
        return inspect.cleandoc(self.module.__doc__ or "").strip()

    @property
    def summary(self) -> str:
        """The fault, in one line."""
        return self.text.splitlines()[0]

    @property
    def why(self) -> str:
        """Why it matters: all between the first paragraph and the one that says what to do."""
        return "\n\n".join(self._paragraphs[1:-1])

    @property
    def fix(self) -> str:
        """What to do instead: the last paragraph, before the sources."""
        paragraphs = self._paragraphs
        return paragraphs[-1] if len(paragraphs) > 1 else ""

    @property
    def sources(self) -> str:
        """Where its numbers come from; empty when it has none, or says so elsewhere."""
        last = self.text.split("\n\n")[-1]
        return last.partition(":")[2].strip() if _SOURCES.match(last) else ""

    @property
    def _paragraphs(self) -> list[str]:
        return [words for words in self.text.split("\n\n") if not _SOURCES.match(words)]

    @property
    def stage(self) -> str | None:
        """The stage that finds its faults, when it does not do so itself."""
        stage: str | None = getattr(self.module, "STAGE", None)
        return stage

    @property
    def can_be_waived(self) -> bool:
        """Whether an author may waive it; not when missing it can injure somebody."""
        return not getattr(self.module, "INJURES", False)

    @property
    def needs(self) -> frozenset[str]:
        """The kinds of entries of the library that it must know all of; else it would find what is not wrong."""
        needs: frozenset[str] = getattr(self.module, "NEEDS", frozenset())
        return needs

    def faults(self, opened: Opened) -> Iterable[Fault]:
        """Return what it finds in a guide; nothing when an earlier stage does that."""
        find: Callable[[Opened], Iterable[Fault]] | None = getattr(self.module, "find", None)
        return () if find is None else find(opened)

    @property
    def said(self) -> str:
        """The check in a message: its name, and who brings it."""
        return said(self.name, self.package)


def said(name: str, package: str | None) -> str:
    """Return a check as a message speaks of it."""
    return f"the check '{name}'" + (f" of the package '{package}'" if package else "")


def known(name: str, module: ModuleType, package: str | None = None) -> tuple[KnownCheck, list[str]]:
    """Return a module as a check, with all that is wrong with it, a message each."""
    head = f"{said(name, package)} (module {module.__name__})"
    check = KnownCheck(name, cast("Described", module), package)
    return check, [f"{head} {fault}" for fault in _faults(name, vars(module), foreign=package is not None)]


def _faults(name: str, has: dict[str, object], *, foreign: bool) -> Iterator[str]:
    if not _NAME.fullmatch(name):
        yield "has a name that nobody can write: give its file small letters and digits, with '_' between words"
    if not str(has.get("__doc__") or "").strip():
        yield "has no docstring: say what is wrong in its first line, then why it matters, then what to do instead"
    wanted = [*_NEEDED, "STAGE" if not foreign and "STAGE" in has else "find"]
    strange = [key for key in has if not key.startswith("_") and key not in _RIGHT and _is_own(has, key)]
    for key in wanted:
        if key not in has:
            near = nearest(key, strange)
            found = f"; is '{near}' meant for it?" if near else ""
            yield f"has no {key}: it must be {_RIGHT[key]}{found}"
            strange = [other for other in strange if other != near]
    if foreign and "STAGE" in has:
        yield "has STAGE, which only checks of Putback itself have: those that it finds while it reads"
    for key in filter(str.isupper, strange):
        near = nearest(key, [optional for optional in ("INJURES", "NEEDS") if optional not in has])
        if near:
            yield f"has '{key}': write {near} when that is meant, or begin the name with '_'"
    for key in _RIGHT:
        if key in has and not _is_right(key, has[key]):
            yield f"has {key} = {_shown(has[key])}: it must be {_RIGHT[key]}"


def _is_own(has: dict[str, object], key: str) -> bool:
    """Whether a name is given in the module itself, as far as that can be seen: not what it imports."""
    value = has[key]
    if isinstance(value, ModuleType):
        return False
    return not callable(value) or getattr(value, "__module__", None) == has.get("__name__")


def _is_right(key: str, value: object) -> bool:
    match key:
        case "LEVEL":
            return isinstance(value, Level)
        case "GROUP":
            return isinstance(value, Group)
        case "FAILS" | "PASSES":
            return isinstance(value, str) and bool(value.strip())
        case "INJURES":
            return isinstance(value, bool)
        case "NEEDS":
            return isinstance(value, frozenset) and value <= KINDS
        case "STAGE":
            return value in STAGES
        case _:
            return callable(value) and _takes_one(value)


def _takes_one(find: Callable[..., object]) -> bool:
    if isinstance(find, FunctionType) and find.__code__.co_argcount == 1 and not find.__code__.co_kwonlyargcount:
        return True  # as nearly all; to look closer takes a millisecond for all checks
    try:
        inspect.signature(find).bind(None)
    except TypeError:
        return False
    except ValueError:  # of what is not written in Python nobody knows
        return True
    return True


def _shown(value: object) -> str:
    words = repr(value)
    return words if len(words) <= 60 else f"{words[:57]}..."
