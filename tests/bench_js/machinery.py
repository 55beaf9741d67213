"""The scripts of the bench page that know nothing of the page, in the order in which they are loaded."""

from __future__ import annotations

from pathlib import Path

import putback.sphinxext
from putback.sphinxext.live import MODULES

HERE = Path(__file__).parent
SCRIPTS = Path(putback.sphinxext.__file__).parent / "static" / "bench"

ORDER = MODULES[: MODULES.index("session") + 1]
"""The names of the scripts; each uses only those before it."""

MACHINERY = [SCRIPTS / f"{name}.js" for name in ORDER]

HARNESS = [HERE / "harness.js", HERE / "example.js"]

CHECKS = sorted(HERE.glob("*.check.js"))
"""What is checked; the same files run in node and in a browser."""
