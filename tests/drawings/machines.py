"""Small machines to draw from."""

from __future__ import annotations

from pathlib import Path

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.model.machine import AnyThing
from putback.source.intake import Memory
from putback.words import Language, catalogue


def words_of(fasteners: str) -> Language:
    """Return the English words of a machine with fasteners, given as they are written below their key."""
    texts = {
        "guide.yaml": "title: Test\n",
        "machine.yaml": f"machine: Test\nparts: {{cover: {{}}}}\nfasteners:{fasteners}",
    }
    guide = read_guide(Path("/g"), store=Memory({Path("/g", name): text for name, text in texts.items()}))
    assert not [fault for fault in guide.faults if fault.check != "no-job"]
    return catalogue(open_guide(guide))


def things_of(fasteners: str) -> dict[str, AnyThing]:
    """Return the things of such a machine."""
    return dict(words_of(fasteners).things)
