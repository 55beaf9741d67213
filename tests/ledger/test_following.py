"""What a sequence tightens, by itself or in blocks."""

from __future__ import annotations

import pytest

from putback.ledger.following import tightened_in
from tests.ledger.trial import block_of, book_of

BLOCKS = {
    "tightens": "steps: [{tighten: screws}, {loosen: clamp}]\n",
    "takes-off": "steps: [{remove: drain}, {loosen: clamp}, {tighten: pin}]\n",
    "outer": "steps: [{do: tightens}, {reverse: takes-off}]\n",
    "round": "steps: [{do: round}, {tighten: plug}]\n",
    "asks": "steps: [{check: leaks, limit: none, otherwise: [{tighten: plug}]}]\n",
}


@pytest.mark.parametrize(
    ("steps", "tightened"),
    [
        ("  - tighten: [screws, clamp]\n", {"screws", "clamp"}),
        ("  - loosen: screws\n  - remove: clamp\n", set()),
        ("  - do: tightens\n", {"screws"}),
        ("  - reverse: tightens\n", {"clamp"}),
        ("  - reverse: takes-off\n", {"drain", "clamp"}),
        ("  - do: takes-off\n", {"pin"}),
        ("  - do: outer\n", {"screws", "drain", "clamp"}),
        ("  - reverse: outer\n", {"clamp", "pin"}),
        ("  - do: round\n", {"plug"}),
        ("  - do: asks\n", {"plug"}),
        ("  - do: unheard-of\n", set()),
        ("  - check: leaks\n    limit: none\n    otherwise: [{tighten: plug}]\n", {"plug"}),
    ],
)
def test_what_is_tightened(steps: str, tightened: set[str]) -> None:
    sequence = book_of(steps, BLOCKS).sequence
    assert tightened_in(sequence, {name: block_of(text, name) for name, text in BLOCKS.items()}) == tightened
