"""Data as text that a page can hold or load: whatever somebody wrote in them, they stay data."""

from __future__ import annotations

import json
import re

_SIGNS = re.compile("[<>&\u2028\u2029\ud800-\udfff]")
"""What opens a tag, ends a script or a line of one, and halves of letters, as the name of a folder can have them."""


def as_data(value: object) -> str:
    """Return a value as JSON that ends no script and opens no tag."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    return _SIGNS.sub(lambda sign: f"\\u{ord(sign[0]):04x}", text)


def as_script(name: str, value: object) -> str:
    """Return a classic script that sets a name of the window: pages in a folder can load nothing else."""
    return f"window.{name}={as_data(value)};\n"
