"""Names that are near to those of files that a guide is read from.

A file that is there and is not read takes its checks away without a word, so every name that may be a slip for one that
is read is told: another ending, other capitals, a letter wrong, something put after it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection

from putback.source.late import Late
from putback.source.nearest import distance

_LEFTOVER = Late(r"[.~#].*|.*(~|#|\.(bak|backup|old|orig|rej|save|sw[a-p]|tmp))", re.IGNORECASE | re.DOTALL)
_YAML = Late(r"(.+?)\.(ya?ml)", re.DOTALL)
_LIKE_YAML = Late(r"(.+?)((\.(ya?ml|yal|yaml?l|ymal|yalm|yam))+(\.txt)?|\.json)", re.DOTALL)
_LIKE_SEQUENCE = Late(rf"{_LIKE_YAML.pattern}|([a-z0-9-]+)|(?!read-?me|notes?\b|todo)(.+)\.txt", re.DOTALL)
_LIKE_PAGE = Late(r"(.+?)(\.md|\.markdown)(\.txt)?", re.DOTALL)

_FOLDERS = {"jobs": "jobs", "job": "jobs", "blocks": "blocks", "block": "blocks"}


def is_leftover(name: str) -> bool:
    """Tell whether a name is hidden, or one that an editor gives to a copy that it keeps."""
    return bool(_LEFTOVER.fullmatch(name))


def _plainly(name: str) -> str:
    """Return a name without what makes two names differ that look alike."""
    letters = unicodedata.normalize("NFKC", name).casefold()
    return "".join(letter for letter in letters if not letter.isspace() and unicodedata.category(letter) != "Cf")


def looks_like(name: str, wanted: Collection[str], *, near: bool = True) -> str | None:
    """Return the one of `wanted` (without `.yaml`) that a file's name is, or is a slip for; None for no such name.

    Without `near`, only capitals and the ending may differ.
    """
    if is_leftover(name):
        return None
    found = (_LIKE_YAML if near else _YAML).fullmatch(_plainly(name))
    if found is None:
        return None
    if found[1] in wanted:
        return found[1]
    alike = [each for each in wanted if _is_slip(found[1], each)] if near and found[2].startswith(".y") else []
    return alike[0] if alike else None


def _is_slip(word: str, name: str) -> bool:
    """One letter wrong in a name of five or more, or an `s` that is missing or too much."""
    return word in (f"{name}s", name.removesuffix("s")) or (len(name) > 4 and distance(word, name, 1) == 1)


def stands_in(name: str, missing: Collection[str]) -> str | None:
    """Return the one of some missing files that a name may stand for: `hazards`, `hazards.txt`, `hazards-2.yaml`."""
    plain = _plainly(name)
    if is_leftover(name) or not (_YAML.fullmatch(plain) or plain.removesuffix(".txt") in missing):
        return None
    return next((each for each in missing if plain.startswith(each)), None)


def holds_guide(names: Collection[str]) -> bool:
    """Tell from the names in a folder whether it is a guide: one of its two files, or a slip for one, is there."""
    if "guide.yaml" in names or "machine.yaml" in names:
        return True
    meant = {looks_like(name, ("guide", "machine"), near=False) for name in names if len(name) < 20} - {None}
    return len(meant) == 2 or (bool(meant) and "jobs" in names)


def is_library(names: Collection[str], library: Collection[str]) -> bool:
    """Tell from the names in a folder `shared` whether it is a library, be it with slips in its names."""
    return any(looks_like(name, library, near=False) for name in names)


def is_yaml(name: str) -> bool:
    """Tell whether a file is one of YAML, be it with a slip in its ending."""
    return bool(_LIKE_YAML.fullmatch(_plainly(name))) and not name.endswith(".json") and not is_leftover(name)


def sequence_name(name: str) -> str | None:
    """Return the name of the job or block that a file without the right ending may be meant for; None for no such."""
    slip = _LIKE_SEQUENCE.fullmatch(_plainly(name))
    if slip is None or is_leftover(name) or ("." not in name and not name.islower()):
        return None
    return name[: len(slip[1] or slip[slip.lastindex or 0])]


def page_name(name: str) -> str | None:
    """Return the name of the page that a file is, or is meant for; None for no such."""
    page = _LIKE_PAGE.fullmatch(_plainly(name))
    return None if page is None or is_leftover(name) else name[: len(page[1])]


def folder_name(name: str) -> str | None:
    """Return `jobs` or `blocks` when a folder's name is, or may be a slip for, one of them."""
    plain = _plainly(name)
    near = (each for each in ("blocks", "jobs") if len(plain) == len(each) and distance(plain, each) == 1)
    return None if is_leftover(name) else _FOLDERS.get(plain) or next(near, None)
