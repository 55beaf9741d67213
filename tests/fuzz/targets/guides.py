"""Whole guides: the bytes are the chance by which one is drawn and changed. Read, walked, checked, printed."""

from __future__ import annotations

import atexit
from copy import deepcopy
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.fuzz.chance import Chance
from tests.fuzz.guides import drawn, tiny_tree
from tests.fuzz.targets.promises import BrokenError
from tests.fuzz.texts import changed, dumped
from tests.fuzz.trees import Changer
from tests.fuzz.trial import MEMORY, Files, Place


@cache
def _place() -> Place:
    folder = TemporaryDirectory(dir=MEMORY if MEMORY.is_dir() else None)
    atexit.register(folder.cleanup)
    return Place(Path(folder.name))


def made(data: bytes) -> Files:
    """Return the guide that some bytes are."""
    chance = Chance(data)
    tree = drawn(chance) if chance.random() < 0.5 else deepcopy(tiny_tree())
    Changer(chance).change(tree, chance.choice((0, 1, 2, 3)), chance.choice((0.0, 0.0, 0.3)))
    texts = dumped(tree, chance)
    return changed(texts, chance, 1) if chance.random() < 0.2 else dict(texts)


def attempt(data: bytes) -> str:
    """Check and print a guide."""
    answer = _place().attempt(made(data))
    for failure in answer.failures:
        raise BrokenError(failure)
    return answer.report
