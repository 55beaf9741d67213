"""`python -m tests.published.worded_limits`: how well words that say nothing, and what is measured, are told."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from ruamel.yaml import YAML

from putback.model.measured import measured
from putback.model.vague import says_nothing

FOLDER = Path(__file__).parent / "limits"
TUNED, KEPT, LATER = "half that was looked at", "half that was not", "found afterwards"


class Words(NamedTuple):
    """A limit in words."""

    of: str
    """What it is said of."""
    limit: str
    """What is said."""
    empty: bool
    """Whether it says nothing."""
    part: str
    """The part of the list that it belongs to."""

    @property
    def right(self) -> bool:
        """Whether it is taken for what it is."""
        return says_nothing(self.limit, (self.of,)) is self.empty


class Named(NamedTuple):
    """What is measured, as a table of limits names it."""

    words: str
    """Its name."""
    kind: str
    """The kind of quantity, or `-` for something that is no measure."""
    side: str
    """How the limit of a worn one reads, or `-`."""
    part: str
    """The part of the list that it belongs to."""

    @property
    def right(self) -> bool:
        """Whether kind and side are found."""
        found = measured(self.words)
        if found is None:
            return self.kind == "-"
        return self.kind in found.kinds and (found.side or "-") == self.side

    @property
    def wronged(self) -> bool:
        """Whether a good limit of it could be called wrong: another kind, or a side that it does not have."""
        found = measured(self.words)
        return found is not None and (self.kind not in found.kinds or (found.side or self.side) != self.side)


def read_words() -> list[Words]:
    """Return all limits in words."""
    lists = YAML(typ="safe").load(FOLDER / "words.yaml")
    found = []
    for name, rows in lists.items():
        for number, row in enumerate(rows):
            of, limit = row.split(": ", 1)
            part = LATER if name.endswith("-later") else KEPT if number % 2 else TUNED
            found.append(Words(of, limit, name.startswith("says-nothing"), part))
    return found


def read_named() -> list[Named]:
    """Return all names of what is measured."""
    rows = YAML(typ="safe").load(FOLDER / "measured.yaml")["measured"]
    return [Named(words, kind, side, KEPT if n % 2 else TUNED) for n, (words, kind, side) in enumerate(rows)]


def report() -> str:
    """Return all that is measured."""
    return "\n".join([*_of_words(), "", *_of_names()])


def _of_words() -> Iterator[str]:
    yield f"{'limits in words':26}{'say nothing':>13}{'found':>7}{'say something':>15}{'called empty':>14}"
    words = read_words()
    for part in (TUNED, KEPT, LATER):
        empty = [each for each in words if each.part == part and each.empty]
        full = [each for each in words if each.part == part and not each.empty]
        hits, false = sum(each.right for each in empty), sum(not each.right for each in full)
        yield f"{part:26}{len(empty):>13}{hits:>7}{len(full):>15}{false:>14}"


def _of_names() -> Iterator[str]:
    yield f"{'what is measured':26}{'names':>13}{'kind and side right':>21}{'could be called wrong':>23}"
    names = read_named()
    for part in (TUNED, KEPT):
        these = [each for each in names if each.part == part]
        right, wronged = sum(each.right for each in these), sum(each.wronged for each in these)
        yield f"{part:26}{len(these):>13}{right:>21}{wronged:>23}"


def main() -> None:
    """Print the tables, and all that is not taken for what it is."""
    print(report())
    for each in read_words():
        if not each.right:
            print(f"  {'not found' if each.empty else 'called empty'}: {each.of}: {each.limit}")
    for name in read_named():
        if not name.right:
            print(f"  {measured(name.words)} for {name.words}")


if __name__ == "__main__":
    main()
