"""Names of files that any disk takes."""

from __future__ import annotations

import hashlib
import re

LONGEST = 255
"""What a file name may have, in bytes of UTF-8, on the disks in use."""

_ENDING = ".pdf"


def file_name(wanted: str) -> str:
    """Return a name (without `.pdf`) that any disk takes: itself, wherever that is possible.

    Control characters and `< > : " / \\ | ? *` become hyphens. A name that is too long loses letters of its first part,
    and has eight digits of its SHA-256 instead, so that two of them stay two; its last part (the paper) stays.
    """
    name = re.sub(r'[\x00-\x1f\x7f-\x9f<>:"/\\|?*]', "-", wanted)
    if _bytes(name) + len(_ENDING) <= LONGEST:
        return name
    last = name.rpartition("-")[2]
    number = hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:8]
    tail = f"-{number}-{last}" if last != name and _bytes(last) < 20 else f"-{number}"
    while _bytes(name) + len(tail) + len(_ENDING) > LONGEST:
        name = name[:-1]
    return name + tail


def _bytes(name: str) -> int:
    # A name that is no UTF-8 has lone surrogates; counted as three bytes, they take one.
    return len(name.encode("utf-8", "surrogatepass"))
