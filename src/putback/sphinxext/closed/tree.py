"""The guide's folder, before Sphinx reads anything in it: which files may be pages.

Sphinx follows links, waits at pipes and falls over text in another encoding. Here, nothing is opened but whole files of
the guide itself.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path

from putback.guide.within import fault_of_page
from putback.source.decoding import decode
from putback.source.load import Mapping, load_text
from putback.sphinxext.closed.told import forget, tell
from putback.sphinxext.sources import is_page

PAGES = (".md", ".rst")
"""Endings of prose pages."""

SETTINGS = ("myst", "substitutions", "html_meta")
"""Keys of a page's head with which it would change how it is read; some let it run a program."""

MADE = ("search", "genindex")
"""Pages of the HTML that Sphinx makes last, over those of the same name."""

DEEPEST = 40
"""Blocks inside one another; a page of words has four or five."""

_FENCE = re.compile(r"[ \t>]*(`{3,}|~{3,}|:{3,})[ \t]*(\S*)")
_CODE = frozenset({"{code}", "{code-block}", "{sourcecode}", "{parsed-literal}", "{math}", "{highlight}"})
"""Directives whose content is shown as it stands."""


def look_around(root: Path) -> list[str]:
    """Return what Sphinx must leave out, as patterns; what should have been a page is told of."""
    forget()
    left_out: list[str] = []
    for folder, folders, files in os.walk(root, followlinks=False):
        here = Path(folder)
        for name in sorted(folders):
            if name.startswith(".") or (here == root and name == "build"):
                folders.remove(name)
            elif (here / name).is_symlink():
                folders.remove(name)
                left_out.append(_pattern(here / name, root))
                tell(here / name, 1, "this is a link to a folder, so nothing in it is read", "copy the folder here")
        for name, message in _namesakes(here, files, root).items():
            left_out.append(_pattern(here / name, root))
            tell(here / name, 1, message, "give it another name")
        for name in sorted(files):
            path = here / name
            if name.endswith((*PAGES, ".yaml")) and not name.startswith(".") and not _is_good(path, root):
                left_out.append(_pattern(path, root))
    return left_out


def _namesakes(folder: Path, files: list[str], root: Path) -> dict[str, str]:
    """Return the prose pages of a folder that would take the place of another page, or lose it, each with why."""
    pages = [name for name in sorted(files) if name.endswith(PAGES) and not name.startswith(".")]
    taken = {name.removesuffix(".yaml"): name for name in files if name.endswith(".yaml") and is_page(folder / name)}
    found = {}
    for name in pages:
        key = Path(name).stem
        if folder == root and key in MADE:
            found[name] = f"a page cannot be called '{key}': every manual has one of that name"
        elif taken.setdefault(key, name) != name:
            found[name] = f"this page would replace {taken[key]}, or not be printed at all"
    return found


def _pattern(path: Path, root: Path) -> str:
    # A set of characters with one in it, and one that no name has: Python warns of a set that begins with a bracket.
    return re.sub(r"([*?\[])", "[\0\\1]", path.relative_to(root).as_posix())


def _is_good(path: Path, root: Path) -> bool:
    """Tell whether a file may be read as a page; if not, say why, unless it is YAML: those were checked before."""
    is_page = path.suffix in PAGES
    fault = fault_of_page(path, root)
    if fault is None and is_page:
        try:
            data = path.read_bytes()
        except OSError as error:
            fault = (f"the file cannot be read: {(error.strerror or '').lower()}", "make it readable")
        else:
            found = decode(data, str(path))
            if not isinstance(found, str):
                tell(path, found.span.line, found.message, found.hint or "")
                return False
            return look_at_text(path, found)
    if fault is not None and is_page:
        tell(path, 1, *fault)
    return fault is None


def look_at_text(path: Path, text: str) -> bool:
    """Tell what in the text of a page cannot be seen in the tree that becomes of it; return whether it may be read.

    A page that changes how it is read must not be: some of those settings let its text run a program. Nor must one that
    lies so deep in itself that nothing can follow it.
    """
    lines = text.split("\n")
    unread = [*_deep(lines)]
    if path.suffix == ".md":
        unread += _head(lines)
        for line, message, instead in _foreign(lines):
            tell(path, line, message, instead)
    for line, message, instead in unread:
        tell(path, line, message, instead)
    return not unread


def _deep(lines: list[str]) -> Iterator[tuple[int, str, str]]:
    """Yield where blocks lie too deep in one another, by their indents and by the fences that are open."""
    indents: list[int] = []
    fences: list[int] = []
    for number, line in enumerate(lines, 1):
        if not line.strip():
            continue
        indent = len(line) - len(line.lstrip())
        while indents and indents[-1] >= indent:
            indents.pop()
        indents.append(indent)
        fence = _FENCE.match(line)
        if fence is not None and fence[2]:
            fences.append(len(fence[1]))
        elif fence is not None:
            while fences and fences.pop() > len(fence[1]):
                pass
        if max(len(indents), len(fences)) > DEEPEST:
            yield number, f"blocks are nested more than {DEEPEST} deep", "use fewer levels"
            return


def _head(lines: list[str]) -> Iterator[tuple[int, str, str]]:
    """Yield what a page may not say in its head, the YAML between two lines of `---`."""
    if not lines[0].startswith("---"):
        return
    if lines[0].rstrip() != "---":
        yield 1, f"a page cannot begin with '{lines[0][:20]}'", "begin it with its heading"
        return
    end = next((at for at, line in enumerate(lines[1:], 1) if line.startswith(("---", "..."))), len(lines))
    loaded = load_text("\n".join(lines[1:end]), str(lines))
    for fault in loaded.faults if end > 1 and any(line.strip() for line in lines[1:end]) else ():
        yield fault.span.line + 1, f"the top of the page cannot be read: {fault.message}", fault.hint or ""
    if isinstance(loaded.root, Mapping):
        for key, entry in loaded.root.entries.items():
            if key in SETTINGS:
                line = entry.key.span.line + 1
                yield line, f"a page cannot change how it is read ('{key}')", "delete that from the top of the page"


def _foreign(lines: list[str]) -> Iterator[tuple[int, str, str]]:
    """Yield where a page goes over into another language of markup, unless that is only shown as code."""
    code: tuple[str, int] | None = None
    for number, line in enumerate(lines, 1):
        fence = _FENCE.match(line)
        if fence is None:
            continue
        mark, length, name = fence[1][0], len(fence[1]), fence[2]
        if code is not None:
            if mark == code[0] and length >= code[1] and not name:
                code = None
        elif name == "{eval-rst}":
            yield number, "'eval-rst' is off in a guide", "write it in Markdown"
        elif mark != ":" and (name in _CODE or (name and not name.startswith("{"))):
            code = (mark, length)
