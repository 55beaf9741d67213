"""Every British word of ours has an American one in an American book, and none stands there unexchanged."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from putback.trade.words import Side, slips
from putback.words import labels_for
from putback.words.english import american
from putback.words.telling import relabelled
from tests.guard import assert_none

FOLDER = Path(american.__file__).parent
NOT_PRINTED = {
    "verbs.py": "words by which an author's text is read",
    "labels.py": "labels are exchanged as a whole",
    "reference.py": "labels are exchanged as a whole",
    "bench.py": "labels are exchanged as a whole",
    "american.py": "the words themselves",
}
READS = {"from the centre", "from the center", "anticlockwise"}
"""Words by which an author's text is read, and the value of a key."""


def british(text: str) -> bool:
    """Tell whether a text of ours is not said so in America."""
    return bool(slips(text, Side.US, nobody=False)) or american.American.own(None, text) != text  # type: ignore[arg-type]


def unexchanged(text: str) -> Iterator[tuple[int, str]]:
    """Yield the British texts of a module, with their lines, that do not pass through `own`."""
    tree = ast.parse(text)
    docs = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    passed = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and getattr(node.func, "attr", getattr(node.func, "id", "")) == "own"
        for inner in ast.walk(node)
    }
    # A name of a constant or of a variable that goes through `own` where it is used.
    handed = {inner.id for node in ast.walk(tree) if id(node) in passed for inner in ast.walk(node)
              if isinstance(inner, ast.Name)}  # fmt: skip
    for node in ast.walk(tree):
        if isinstance(node, ast.Assign):
            targets = {inner.id for target in node.targets for inner in ast.walk(target) if isinstance(inner, ast.Name)}
            if targets & handed:
                passed |= {id(inner) for inner in ast.walk(node)}
    for node in ast.walk(tree):
        said = isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs | passed
        if said and british(str(node.value)):  # type: ignore[attr-defined]
            yield node.lineno, str(node.value)  # type: ignore[attr-defined]


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.py")), ids=lambda path: path.name)
def test_british_words_of_sentences_are_exchanged(path: Path) -> None:
    if path.name in NOT_PRINTED:
        return
    found = [each for each in unexchanged(path.read_text(encoding="utf-8")) if each[1] not in READS]
    assert_none([f"{path.name}:{line}: {text}" for line, text in found], "pass these through `own`")


def test_no_label_is_british_in_an_american_book() -> None:
    found: list[str] = []

    def look(context: str, text: str) -> str:
        if british(text):
            found.append(f"{context}: {text}")
        return text

    relabelled(labels_for("en-US"), "label", look)
    assert_none(found, "these are British")


def test_labels_have_the_words_of_each_side() -> None:
    assert labels_for("en-GB").book.licence == "Licence"
    assert labels_for("en-US").book.licence == "License"
    assert "line power" in labels_for("en-US").safety.before_often
    assert labels_for("en-US").safety.before_stop_list[2].endswith("that the job does not replace;")


def test_a_british_word_that_is_not_exchanged_is_found() -> None:
    text = 'def f(self):\n    """A spanner."""\n    yield self.own("A spanner.")\n    yield "Use the spanner."\n'
    assert list(unexchanged(text)) == [(4, "Use the spanner.")]
