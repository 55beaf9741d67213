"""Every value that the author of a guide wrote, with where it stands in its file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from putback.guide.record import Guide
from putback.model.job import Step
from putback.source.load import Listing, Mapping, Node, Text, load

LIBRARY = ("cautions", "hazards", "tools", "consumables", "equipment")
"""Files that a guide may share with others, or bring."""


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value."""

    place: str
    """Its keys, with `*` for names that the author chose and for list items: `machine/fasteners/*/note`.

    A step is `step`, however deep it lies, and `step+text` when the author gave the sentence himself.
    """
    words: str
    """What stands there."""
    page: str
    """The page that it must stand on, `jobs/KEY`; empty when any will do."""
    at: str
    """File and line, for who mends it."""


def scalars_of(guide: Guide) -> Iterator[Scalar]:
    """Yield every value of a guide's own files and of what it uses of its library."""
    root = guide.root
    yield from _walk(_root(root / "guide.yaml"), "guide", "")
    yield from _walk(_root(root / "machine.yaml"), "machine", "")
    if guide.symptoms:
        signs = _root(root / "symptoms.yaml")
        assert isinstance(signs, Mapping)
        for pair in signs.entries.values():
            yield from _walk(pair.value, "symptoms/*", "")
    done: set[str] = set()
    for key, job in guide.jobs.items():
        yield from _walk(_root(Path(job.path)), "job", f"jobs/{key}")
    # A job that only reverses a block does not say all that stands in it.
    for verbs in (("do",), ("do", "reverse")):
        for key, job in guide.jobs.items():
            for path in _blocks(guide, job.steps(), verbs):
                if path not in done:
                    done.add(path)
                    yield from _walk(_root(Path(path)), "block", f"jobs/{key}")
    yield from _of_library(guide)


def _blocks(guide: Guide, steps: Iterator[Step], verbs: tuple[str, ...] = ("do", "reverse")) -> Iterator[str]:
    """Yield the files of the blocks that steps lead into, by some verbs."""
    for step in steps:
        if step.verb.name in verbs:
            for ref in step.things:
                block = guide.library.blocks[ref.name]
                yield block.path
                yield from _blocks(guide, block.steps(), verbs)


def _of_library(guide: Guide) -> Iterator[Scalar]:
    """Yield what the entries say that the guide names, in its own files and in the shared ones."""
    library = guide.library
    cautions = {scalar.words for scalar in _everywhere(guide) if _key(scalar.place) == "caution"}
    covered = {ref.name for key in cautions for ref in library.cautions[key].covers}
    others = {scalar.words for scalar in _everywhere(guide) if _key(scalar.place) in _CALLS}
    for kind in LIBRARY:
        named = {"cautions": cautions, "hazards": covered}.get(kind, others)
        for entry in getattr(library, kind).values():
            if entry.key in named:
                node = _root(Path(entry.span.path))
                assert isinstance(node, Mapping)
                yield from _walk(node.entries[entry.key].value, f"{kind}/*", "")


_CALLS = ("apply", "with", "place", "take-away", "tool", "compound")
"""Keys that call an entry of the library."""


def _key(place: str) -> str:
    """Return the last key of a place."""
    return [part for part in place.split("/") if part != "*"][-1]


def _everywhere(guide: Guide) -> Iterator[Scalar]:
    """Yield the values of the machine, the jobs and their blocks."""
    files = [guide.root / "machine.yaml", *(Path(job.path) for job in guide.jobs.values())]
    files += [Path(path) for job in guide.jobs.values() for path in _blocks(guide, job.steps())]
    for file in dict.fromkeys(files):
        yield from _walk(_root(file), "file", "")


def _root(file: Path) -> Node:
    root = load(file).root
    assert root is not None, file
    return root


NAMED = frozenset({
    "machine/options", "machine/controls", "machine/parts", "machine/fasteners", "machine/lines", "machine/fluids",
    "machine/kits", "machine/settings", "machine/access-after", "machine/results-in", "machine/needs",
})  # fmt: skip
"""Mappings whose keys are names that the author chose."""
CHOSEN = (
    "how-to-tell",
    "how-to-tell/*",
    "needs",
    "when",
    "while",
    "safe-when",
    "length",
    "waive",
    "positions",
    "disturbed-by",
    "adjusted-by",
    "exclude/*",
    "when/*",
    "results-in/*",
    "needs/*",
)
"""Keys whose mappings have such names as keys too, wherever they stand."""


def _walk(node: Node, place: str, page: str) -> Iterator[Scalar]:
    match node:
        case Text(value=value, span=span):
            yield Scalar(place, value, page, f"{span.path}:{span.line}")
        case Listing(items=items):
            steps = place.endswith(("/steps", "/otherwise"))
            for item in items:
                within = ("step+text" if "text" in _keys(item) else "step") if steps else f"{place}/*"
                yield from _walk(item, within, page)
        case Mapping(entries=entries):
            chosen = place in NAMED or place.endswith(tuple(f"/{name}" for name in CHOSEN))
            for key, entry in entries.items():
                yield from _walk(entry.value, f"{place}/{'*' if chosen else key}", page)


def _keys(node: Node) -> set[str]:
    return set(node.entries) if isinstance(node, Mapping) else set()
