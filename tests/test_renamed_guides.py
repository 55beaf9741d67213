"""Words that have another name now: a guide in the old words is told each new one, and with these it is as it was."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from putback.lint.run import check_guide
from putback.source.finding import Finding
from putback.source.load import Listing, Mapping, Node, Text, load_text
from putback.source.renamed import Rename, all_renames
from putback.source.span import Span

ROOT = Path(__file__).resolve().parent.parent
GUIDES = ["ambry-g5", "hollin-20", "sessel-w15", "tarrick-d2"]
RENAMES = all_renames()


class Word(NamedTuple):
    """A word in a file, and what it was called."""

    span: Span
    was: str


def old_words(kind: str, node: Node, place: tuple[str, ...] = ()) -> Iterator[Word]:
    """Yield the words of a file of today that had another name, each with it."""
    step = place[-2:-1] in (("steps",), ("otherwise",))
    match node:
        case Mapping(entries=entries):
            for key, pair in entries.items():
                for rename in RENAMES:
                    if rename.now == key and is_there(rename, kind, place, step=step):
                        yield Word(pair.key.span, rename.was)
                yield from old_words(kind, pair.value, (*place, key))
        case Listing(items=items):
            for index, item in enumerate(items):
                yield from old_words(kind, item, (*place, str(index)))
        case Text(value=value, span=span) if place[-2:-1] == ("verbs",):
            yield from (Word(span, rename.was) for rename in RENAMES if rename[:1] == ("verb",) and rename.now == value)
        case _:
            pass


def is_there(rename: Rename, kind: str, place: tuple[str, ...], *, step: bool) -> bool:
    """Tell whether a line of the list is meant for a key in the mapping at a place."""
    if rename.where == "check":
        return place[-1:] == ("waive",)
    if rename.where in ("step", "verb"):
        return step
    wanted = tuple(rename.at.split("/")) if rename.at else ()
    return (
        rename.where == kind
        and len(wanted) == len(place)
        and all(each in ("*", name) for each, name in zip(wanted, place, strict=True))
    )


def replaced(text: str, words: list[Word]) -> str:
    """Return a text with other words at some places."""
    lines = text.split("\n")
    for span, word in sorted(words, reverse=True):
        line = lines[span.line - 1]
        lines[span.line - 1] = line[: span.column - 1] + word + line[span.end_column - 1 :]
    return "\n".join(lines)


def kind_of(path: Path) -> str:
    return {"jobs": "job", "blocks": "block"}.get(path.parent.name, path.stem)


def made_old(folder: Path) -> int:
    """Put the old words into the YAML files below a folder; return how many."""
    count = 0
    for path in sorted(folder.rglob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        root = load_text(text, path.name).root
        words = list(old_words(kind_of(path), root)) if root else []
        path.write_text(replaced(text, words), encoding="utf-8")
        count += len(words)
        if path.name == "equipment.yaml":
            path.rename(path.with_name("aids.yaml"))
            count += 1
    return count


def told(finding: Finding) -> Word | None:
    """Return the new word that a finding tells, and where it belongs; None when it tells something else."""
    before, found, now = finding.message.partition("' is now called '")
    return Word(finding.span, now[:-1]) if found and before.startswith("'") and now.endswith("'") else None


def below(folder: Path) -> dict[str, str]:
    return {str(path.relative_to(folder)): path.read_text(encoding="utf-8") for path in folder.rglob("*.yaml")}


@pytest.mark.parametrize("name", GUIDES)
def test_a_guide_in_the_old_words_is_told_each_new_one_and_then_is_as_it_was(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(ROOT / "shared", tmp_path / "shared")
    shutil.copytree(ROOT / "procedures" / name, tmp_path / name)
    monkeypatch.chdir(tmp_path)
    before = below(tmp_path)
    count = made_old(tmp_path)

    _, findings, _ = check_guide(tmp_path / name)
    words = [(finding, told(finding)) for finding in findings]
    assert [str(finding) for finding, word in words if word is None] == []
    assert len(findings) == count

    for path in tmp_path.rglob("*.yaml"):
        here = [word for _, word in words if word and Path(word.span.path) == path.relative_to(tmp_path)]
        if path.name == "aids.yaml":
            assert any(word.was == "equipment.yaml" for word in here)
            here = [word for word in here if word.was != "equipment.yaml"]
        path.write_text(replaced(path.read_text(encoding="utf-8"), here), encoding="utf-8")
    for path in list(tmp_path.rglob("aids.yaml")):
        path.rename(path.with_name("equipment.yaml"))
    assert below(tmp_path) == before
    _, findings, _ = check_guide(tmp_path / name)
    assert findings == []
