"""A new guide: the files in this folder, copied to where the author wants them."""

from __future__ import annotations

import shutil
from pathlib import Path
from tempfile import mkdtemp

_HERE = Path(__file__).parent


class GuideExistsError(Exception):
    """There is something at that place already."""


def start_guide(folder: Path) -> list[Path]:
    """Write a new guide and return its files.

    Writes beside and then renames, so that there is a whole guide or none. Raises `GuideExistsError` when the folder
    is there and not empty, and `OSError` when it cannot be written.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise GuideExistsError(f"'{folder}' is there already; nothing was written")
    folder.parent.mkdir(parents=True, exist_ok=True)
    beside = Path(mkdtemp(prefix=".new-guide-", dir=folder.parent))
    try:
        ready = beside / "guide"
        shutil.copytree(_HERE, ready, ignore=shutil.ignore_patterns("__init__.py", "__pycache__"))
        (ready / "images").mkdir()
        (ready / "blocks").mkdir()
        if folder.exists():
            folder.rmdir()
        ready.rename(folder)
    finally:
        shutil.rmtree(beside, ignore_errors=True)
    return sorted(path for path in folder.rglob("*") if path.is_file())
