"""Many executions, each told by a seed and its number."""

from __future__ import annotations

import hashlib
import time
from collections import Counter
from collections.abc import Iterable, Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import NamedTuple

from tests.fuzz import guides
from tests.fuzz.texts import changed, dumped
from tests.fuzz.trees import Changer
from tests.fuzz.trial import MEMORY, Answer, Files, Place, smaller

BACK_TO = 25
"""One in so many executions is done twice, to compare the answers."""


class Mix(NamedTuple):
    """From which guides executions begin, as shares; the others begin from random ones."""

    shipped: float
    bench: float
    tiny: float


RICH = Mix(0.005, 0.25, 0.3)
"""For long runs."""
QUICK = Mix(0.001, 0.1, 0.8)
"""For many executions in little time: a tiny guide takes a third of the time of a random one."""


@dataclass
class Case:
    """The input of one execution."""

    kind: str
    """`tree`: good YAML; `text`: whatever came of it."""
    files: Files


def made(seed: int, number: int, mix: Mix = RICH) -> Case:
    """Return the input of an execution; the same for the same numbers, on any machine."""
    rng = Random(f"{seed} {number}")
    well_formed = number % 2 == 0
    source = rng.random()
    tree, texts = None, None
    if source < mix.shipped:
        tree, texts = _one_of(rng, guides.shipped_trees(), guides.shipped_texts(), well_formed=well_formed)
    elif source < mix.shipped + mix.bench:
        tree, texts = _one_of(rng, guides.bench_trees(), guides.bench_texts(), well_formed=well_formed)
    elif source < sum(mix):
        tree, texts = _one_of(rng, (guides.tiny_tree(),), (guides.TINY,), well_formed=well_formed)
    else:
        tree = guides.drawn(rng, rng.choice((0.0, 0.0, 0.1)))
    if tree is not None:
        if well_formed:
            Changer(rng).change(tree, rng.choice((0, 1, 1, 2, 2, 3, 5)), rng.choice((0.0, 0.0, 0.0, 0.3)))
        texts = dumped(tree, rng)
    assert texts is not None
    if well_formed:
        return Case("tree", dict(texts))
    return Case("text", changed(texts, rng, rng.choice((1, 1, 2, 3, 6))))


def _one_of(
    rng: Random, trees: Sequence[guides.Tree], texts: Sequence[dict[str, str]], *, well_formed: bool
) -> tuple[guides.Tree | None, dict[str, str] | None]:
    return (deepcopy(rng.choice(trees)), None) if well_formed else (None, rng.choice(texts))


@dataclass
class Found:
    """A failure, with the smallest input that was found for it."""

    kind: str
    detail: str
    seed: int
    number: int
    files: Files
    times: int = 1


@dataclass
class Tally:
    """What came of many executions."""

    runs: Counter[str] = field(default_factory=Counter)
    walked: Counter[str] = field(default_factory=Counter)
    seconds: float = 0.0
    slowest: float = 0.0
    slowest_number: int = 0
    found: dict[str, Found] = field(default_factory=dict)
    digest: str = ""
    """Alike for alike answers: of two runs with other hash seeds too."""

    def add(self, other: Tally) -> None:
        """Take in what another run came to."""
        self.runs += other.runs
        self.walked += other.walked
        self.seconds += other.seconds
        if other.slowest > self.slowest:
            self.slowest, self.slowest_number = other.slowest, other.slowest_number
        for kind, found in other.found.items():
            mine = self.found.setdefault(kind, found)
            if mine is not found:
                mine.times += found.times
        self.digest = hashlib.sha256(f"{self.digest}{other.digest}".encode()).hexdigest()


def run(seed: int, numbers: Iterable[int], mix: Mix = RICH, *, minimise: bool = True) -> Tally:
    """Make and try the inputs with these numbers."""
    tally, digest = Tally(), hashlib.sha256()
    start = time.process_time()
    with TemporaryDirectory(dir=MEMORY if MEMORY.is_dir() else None) as folder:
        place = Place(Path(folder))
        for number in numbers:
            case = made(seed, number, mix)
            answer = place.attempt(case.files, twice=number % BACK_TO == 0)
            tally.runs[case.kind] += 1
            tally.walked[case.kind] += answer.walked
            digest.update(answer.report.encode("utf-8", "replace"))
            if answer.seconds > tally.slowest:
                tally.slowest, tally.slowest_number = answer.seconds, number
            _note(tally, place, answer, case, seed, number, minimise=minimise)
    tally.seconds = time.process_time() - start
    tally.digest = digest.hexdigest()
    return tally


def _note(tally: Tally, place: Place, answer: Answer, case: Case, seed: int, number: int, *, minimise: bool) -> None:
    for failure in answer.failures:
        if failure.kind in tally.found:
            tally.found[failure.kind].times += 1
            continue
        files, kind = case.files, failure.kind
        if minimise and not kind.startswith(("hangs", "slow")):
            files = smaller(files, partial(_fails, place, kind))
        tally.found[kind] = Found(kind, failure.detail, seed, number, files)


def _fails(place: Place, kind: str, files: Files) -> bool:
    return any(failure.kind == kind for failure in place.attempt(files).failures)
