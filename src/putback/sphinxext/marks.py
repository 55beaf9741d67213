"""How Putback knows what it made, and for which guide: a file in the HTML's folder, a keyword in the PDF.

Both hold the same on any machine. Beside them the file system remembers, where it can, the folder of the guide.
"""

from __future__ import annotations

import json
import mmap
import os
import re
import stat
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote, unquote_to_bytes

from putback.guide.paths import is_guide
from putback.guide.record import Guide

HTML_MARK = "putback.json"
"""The file in the HTML's folder."""

_KIND = "putback-manual"
_FROM = "user.putback.guide"
"""The extended attribute with the way to the guide's folder. It is not part of what the file holds."""

_KEYWORD = re.compile(rb"<pdf:Keywords>putback-manual/([\w.~%/-]*)</pdf:Keywords>")
"""Where the mark stands in the PDF's metadata (XMP), which is never compressed."""

_LONGEST = 1 << 26
"""No mark of ours is longer, in bytes."""

_FOREIGN = {".DS_Store", "Thumbs.db", "desktop.ini", ".directory"}
"""What a file manager puts into any folder that somebody looks at."""


@dataclass(frozen=True, slots=True)
class Origin:
    """Which guide something was made for."""

    folder: str
    """The name of its folder."""
    title: str
    machine: str

    def keyword(self) -> str:
        """Return it as one word of ASCII letters, without brackets, quotes, commas and blanks."""
        return "/".join([_KIND, *(_quoted(part) for part in (self.folder, self.title, self.machine))])


@dataclass(frozen=True, slots=True)
class Made:
    """Something that Putback made."""

    mark: Origin
    place: Path | None
    """The folder of the guide, where the file system remembers it."""
    foreign: str = ""
    """What is in it and not from Putback."""


def mark_of(guide: Guide) -> Origin:
    """Return the mark for what is made of a guide."""
    guide = guide.source or guide  # in another language, it is the manual of the same guide
    title = guide.cover.title if guide.cover else ""
    return Origin(guide.root.name, title, guide.machine.name if guide.machine else "")


def is_for(made: Made, guide: Guide) -> bool:
    """Tell whether something was made for this guide, and not for another one whose folder has the same name.

    Title and machine may be written anew, and the guide may have moved; but where both changed, and it is not known
    that it was made from this folder, it is another guide.
    """
    mark = mark_of(guide)
    if made.mark.folder != mark.folder:
        return False
    same = (made.mark.title == mark.title) + (made.mark.machine == mark.machine)
    if made.place is None or not is_guide(made.place):
        return same > 0
    return same == 2 or made.place.samefile(guide.root)


def mark_html(folder: Path, guide: Guide, out: Path) -> None:
    """Put the mark into a folder of HTML that is to lie in `out`, with the names of all its files."""
    mark = mark_of(guide)
    written = {
        "made": "by Putback. The next `putback build` replaces this folder as a whole: keep nothing of your own in it.",
        "mark": mark.keyword(),
        "files": sorted([*_names(folder), HTML_MARK]),
    }
    text = json.dumps(written, indent=1)
    (folder / HTML_MARK).write_text(f"{text}\n", encoding="ascii", newline="\n")
    remember(folder, guide, out)


def remember(made: Path, guide: Guide, out: Path) -> None:
    """Note on the disk, where it can, from which folder something was made that is to lie in `out`.

    The way from one to the other stays true when both are moved or copied together.
    """
    if hasattr(os, "setxattr"):
        with suppress(OSError, ValueError):
            os.setxattr(made, _FROM, os.fsencode(os.path.relpath(guide.root, out.resolve())))


def read_html(folder: Path, out: Path) -> Made | None:
    """Return for what a folder of HTML was made that lies in `out`; None when Putback did not make it."""
    try:
        handle = _open(folder / HTML_MARK)
        with os.fdopen(handle, "rb") as file:
            written = json.loads(file.read(_LONGEST))
        kind, _, rest = str(written["mark"]).partition("/")
        mark, ours = _parsed(rest), set(map(str, written["files"]))
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return None
    if kind != _KIND or mark is None:
        return None
    foreign = [name for name in _names(folder) if name not in ours and name.rpartition("/")[2] not in _FOREIGN]
    return Made(mark, _from(folder, out), min(foreign, default=""))


def read_pdf(path: Path, out: Path) -> Made | None:
    """Return for what a PDF was made that lies in `out`; None when Putback did not make it."""
    try:
        handle = _open(path)
        with os.fdopen(handle, "rb") as file, mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as text:
            if text[:5] != b"%PDF-":
                return None
            found = list(_KEYWORD.finditer(text))
            mark = _parsed(found[-1][1].decode("ascii")) if found else None
            # A reader that writes notes or a signature into a PDF puts them after its end.
            changed = text.find(b"%%EOF") != text.rfind(b"%%EOF") or not text[-8:].rstrip().endswith(b"%%EOF")
    except (OSError, ValueError):
        return None
    return None if mark is None else Made(mark, _from(path, out), "something" if changed else "")


def _open(path: Path) -> int:
    """Open an ordinary file to read, and nothing that is a link, or that would wait for a writer."""
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0))
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise OSError
    return handle


def _from(made: Path, out: Path) -> Path | None:
    if hasattr(os, "getxattr"):
        with suppress(OSError, ValueError, RuntimeError):
            return Path(out, os.fsdecode(os.getxattr(made, _FROM))).resolve()
    return None


def _names(folder: Path) -> list[str]:
    """Return all that is in a folder but other folders, and folders with nothing in them."""
    found = []
    for place, folders, files in os.walk(folder):
        links = [name for name in folders if Path(place, name).is_symlink()]
        names = [*files, *links] if files or folders or Path(place) == folder else [""]
        found += [Path(place, name).relative_to(folder).as_posix() for name in names]
    return found


def _parsed(rest: str) -> Origin | None:
    parts = [unquote_to_bytes(part).decode("utf-8", "surrogatepass") for part in rest.split("/")]
    return Origin(*parts) if len(parts) == 3 else None


def _quoted(text: str) -> str:
    # The name of a folder need not be UTF-8; what is none stands in a text as lone surrogates.
    return quote(text.encode("utf-8", "surrogatepass"), safe="")
