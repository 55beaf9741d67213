"""The manuals that the print laws are tried on, each made once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.print import GUIDES, every_key
from tests.print.printed_pages import Printed, printed


@pytest.fixture(scope="session")
def manuals(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Printed]:
    """The shipped guides, and the one that uses every key."""
    folder = tmp_path_factory.mktemp("manuals")
    roots = {name: Path("procedures") / name for name in GUIDES[:-1]}
    roots[GUIDES[-1]] = every_key.write(folder)
    return {name: printed(root, folder / f"made-{root.name}") for name, root in roots.items()}
