"""What a build may replace: only what Putback made for this very guide, and never a source."""

from __future__ import annotations

import os
import stat
import sys
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from putback.guide.library import folder_for
from putback.guide.paths import guide_of, shown_path
from putback.guide.record import Guide
from putback.sphinxext.marks import Made, is_for, read_html, read_pdf
from putback.sphinxext.naming import HTML, folder_name, pdf_name
from putback.variants import Choice

BUILD = "build"
"""The folder of a guide that is no source: `putback build` in the guide puts the manual there."""


class TargetError(Exception):
    """The manual cannot be put there; the message says why, and what to do."""


@dataclass(frozen=True, slots=True)
class Target:
    """One manual that is to be made."""

    guide: Guide
    out: Path
    """The folder for it."""
    names: tuple[str, ...]
    """What is put into that folder: `html`, the names of the PDFs."""


def target_for(
    guide: Guide, only: Choice, forms: Sequence[str], out: Path, paper: str, jobs: Sequence[str] = ()
) -> Target:
    """Return where the manual of a guide goes in these forms; with `jobs`, a PDF for each of them."""
    names = {"html": (HTML,), "pdf": [f"{pdf_name(folder_name(guide), only, paper, job)}.pdf" for job in jobs or [""]]}
    return Target(guide, out, tuple(name for form in dict.fromkeys(forms) for name in names[form]))


def check_targets(targets: Sequence[Target]) -> None:
    """Raise `TargetError` when one of the manuals cannot be put where it is to go."""
    _check_together(targets)
    for target in targets:
        out = resolved(target.out)
        _check_folder(target.out)
        _check_sources(target, out, [each.guide for each in targets])
        for name in target.names:
            reason = kept(out / name, target.guide)
            if reason is not None:
                raise TargetError(reason)


def resolved(out: Path) -> Path:
    """Return a folder that may not be there yet, without links. Raises `TargetError`."""
    try:
        return out.resolve()
    except (OSError, RuntimeError) as error:  # a link that leads to itself
        raise TargetError(f"'{out}' leads nowhere; {_ELSEWHERE}") from error


def kept(place: Path, guide: Guide | None, taken_from: Path | None = None) -> str | None:
    """Return why what is at a place of a guide's manual must not be replaced; None when it may, or nothing is there.

    A place called `html` is the folder of the HTML, and any other the PDF. Without a guide, all that Putback made may
    be replaced. `taken_from` is its place, when it has left that already.
    """
    home = taken_from or place
    shown = shown_path(home)
    try:
        mode = place.lstat().st_mode
    except FileNotFoundError:
        return None
    except OSError as error:
        return f"'{shown}' cannot be examined: {_reason(error)}"
    wanted, test, read = (
        ("a folder", stat.S_ISDIR, read_html) if place.name == HTML else ("a file", stat.S_ISREG, read_pdf)
    )
    if not test(mode):
        return f"'{shown}' is {_kind(mode)}, not {wanted} that Putback made; {_AWAY}"
    if stat.S_ISDIR(mode) and _is_empty(place):
        return None
    made = read(place, home.parent)
    if made is None:
        return f"'{shown}' was not made by Putback, or before it marked its manuals, so it is not replaced; {_AWAY}"
    return _not_for(made, guide, shown)


_ELSEWHERE = "name another folder with --out"
_AWAY = f"move it away, or {_ELSEWHERE}"


def _not_for(made: Made, guide: Guide | None, shown: str) -> str | None:
    if guide is not None and not is_for(made, guide):
        alike = made.mark.folder == guide.root.name
        which = f"of the same name, '{made.mark.title}'" if alike else f"'{made.mark.folder}'"
        return f"'{shown}' is the manual of another guide, {which}, so it is not replaced; {_AWAY}"
    if made.foreign and shown.endswith(".pdf"):
        return f"'{shown}' was changed after Putback made it (a note, a signature), so it is not replaced; {_AWAY}"
    if made.foreign:
        return f"'{shown}/{made.foreign}' was not made by Putback, and would be lost; {_AWAY}"
    return None


def _kind(mode: int) -> str:
    kinds = {stat.S_IFLNK: "a link", stat.S_IFDIR: "a folder", stat.S_IFREG: "a file", stat.S_IFIFO: "a named pipe"}
    return kinds.get(stat.S_IFMT(mode), "a device or a socket")


def _is_empty(folder: Path) -> bool:
    try:
        return not any(folder.iterdir())
    except OSError:
        return False


def _check_together(targets: Sequence[Target]) -> None:
    """Two guides must not meet in one folder, on no disk: some take `Pump` and `pump` for the same name."""
    seen: dict[str, Target] = {}
    for target in targets:
        key = unicodedata.normalize("NFC", str(resolved(target.out))).casefold()
        first = seen.setdefault(key, target)
        if first is not target:
            raise TargetError(
                f"the manuals of '{first.guide.shown}' and '{target.guide.shown}' would both be put into "
                f"'{shown_path(target.out)}'; build them one by one, each with its own --out"
            )


def _check_folder(out: Path) -> None:
    """The folder can be made, or is one that can be written to."""
    for folder in (out, *out.absolute().parents):
        try:
            mode = folder.stat().st_mode
        except FileNotFoundError:
            if folder.is_symlink():
                raise TargetError(f"'{folder}' is a link to nothing; {_AWAY}") from None
            continue
        except NotADirectoryError:
            continue
        except OSError as error:
            raise TargetError(f"'{out}' cannot be written: {_reason(error)}; {_ELSEWHERE}") from None
        shown = folder if folder == out else shown_path(folder)
        if not stat.S_ISDIR(mode):
            raise TargetError(f"'{shown}' is {_kind(mode)}, and the manual needs a folder there; {_AWAY}")
        if not os.access(folder, os.W_OK | os.X_OK):
            raise TargetError(f"'{shown}' cannot be written: {_why_not(folder)}; {_ELSEWHERE}")
        return


def _why_not(folder: Path) -> str:
    if sys.platform != "win32" and os.statvfs(folder).f_flag & os.ST_RDONLY:
        return "the disk is read-only"
    return "permission denied"


def _reason(error: OSError) -> str:
    return (error.strerror or type(error).__name__).lower()


# sources


def _check_sources(target: Target, out: Path, guides: Sequence[Guide]) -> None:
    around = set(_identities(out))
    for guide in guides:
        if _lies_in(out, around, guide.root):
            raise TargetError(f"'{shown_path(target.out)}' is in the guide '{guide.shown}'; {_ELSEWHERE}")
        shared = folder_for(guide.root)
        if around & {_identity(shared)}:
            raise TargetError(f"'{shown_path(target.out)}' is in the library '{shown_path(shared)}'; {_ELSEWHERE}")
        for name in target.names:
            for source in (guide.root, shared):
                if _identity(out / name) in set(_identities(source)):
                    what = "is" if _identity(out / name) == _identity(source) else "holds"
                    raise TargetError(
                        f"'{shown_path(target.out / name)}' {what} the source '{shown_path(source)}', "
                        f"and the manual would take its place; {_ELSEWHERE}"
                    )
    other = guide_of(out)
    if other is not None and _lies_in(out, around, other):
        raise TargetError(f"'{shown_path(target.out)}' is in the guide '{shown_path(other)}'; {_ELSEWHERE}")


def _lies_in(out: Path, around: set[tuple[int, int]], root: Path) -> bool:
    """Tell whether a folder (itself and all around it: `around`) lies in a guide, and not in that guide's `build`."""
    if _identity(root) not in around:
        return False
    # Under another spelling it is the same folder; as a link it leads to a place of its own.
    build = None if (root / BUILD).is_symlink() else _identity(root / BUILD)
    return not (out.is_relative_to(root / BUILD) or (build is not None and build in around))


def _identity(path: Path) -> tuple[int, int] | None:
    """Return what tells a file or folder from all others, under whatever name; None when nothing is there."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def _identities(path: Path) -> Iterator[tuple[int, int]]:
    for each in (path, *path.parents):
        found = _identity(each)
        if found is not None:
            yield found
