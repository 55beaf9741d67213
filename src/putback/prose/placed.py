"""Which pages of a guide are in its book, and which of them show which table: `putback-torques` on `specifications`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fnmatch import fnmatchcase

from putback.guide.record import Guide
from putback.source.late import Late

_FENCE = Late(r"[ ]{0,3}(?P<fence>`{3,}|~{3,}|:{3,})(?:\{(?P<name>[\w-]+)\})?")
_ENTRY = Late(r"(?:.*<)?/?(?:\./)?(?P<name>[^<>:]+?)(?:\.md|\.yaml)?>?")
_ROOT = "index"


def placed(guide: Guide) -> Mapping[str, str]:
    """Return the directives of ours on pages that the book has, each with the name of the first page that has it."""
    return placed_on({path.removeprefix(guide.shown).lstrip("/"): text for path, text in guide.pages.items()})


def placed_on(texts: Mapping[str, str]) -> Mapping[str, str]:
    """Return the same for the texts of pages, by their paths in the guide."""
    pages, found = {path.removesuffix(".md"): text for path, text in texts.items()}, dict[str, str]()
    for page in _in_book(pages):
        for directive in _directives(pages[page]):
            if directive.startswith("putback-"):
                found.setdefault(directive, page)
    return found


def _in_book(pages: Mapping[str, str]) -> Iterator[str]:
    """Yield the pages that the contents of the first page lead to, itself first."""
    waiting, seen = [_ROOT], {_ROOT}
    while waiting:
        page = waiting.pop(0)
        if page not in pages:
            continue
        yield page
        folder = page.rpartition("/")[0]
        for entry in _contents(pages[page]):
            wanted = f"{folder}/{entry}" if folder else entry
            for name in pages:
                if name not in seen and (name == wanted or fnmatchcase(name, wanted)):
                    seen.add(name)
                    waiting.append(name)


def _contents(text: str) -> Iterator[str]:
    for name, lines in _fenced(text):
        for line in lines if name == "toctree" else ():
            entry = _ENTRY.fullmatch(line.strip())
            if entry is not None:
                yield entry["name"].strip()


def _directives(text: str) -> Iterator[str]:
    for name, _ in _fenced(text):
        yield name


def _fenced(text: str) -> Iterator[tuple[str, list[str]]]:
    """Yield the directives of a page with their lines, those in another one as well; what stands in code is none."""
    open_: list[tuple[str, str, list[str]]] = []
    for line in text.splitlines():
        found = _FENCE.match(line)
        if open_ and found and not found["name"] and found["fence"].startswith(open_[-1][0]):
            _, name, lines = open_.pop()
            if name:
                yield name, lines
        elif found and not (open_ and not open_[-1][1]):
            open_.append((found["fence"], found["name"] or "", []))
        elif open_:
            open_[-1][2].append(line)
    yield from ((name, lines) for _, name, lines in open_ if name)
