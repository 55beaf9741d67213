"""Which messages answer a hazard, and what they warn of."""

from __future__ import annotations

import pytest

from putback.ledger.warned import about_machine, named_by_runs
from tests.ledger.trial import book_of


@pytest.mark.parametrize(
    ("offered", "kept"),
    [
        (["messy-caution", "sharp-caution"], ["sharp-caution"]),
        (["sharp-caution", "hot-caution"], ["sharp-caution", "hot-caution"]),
        (["messy-caution", "running-caution"], ["running-caution"]),
        (["messy-caution"], ["messy-caution"]),
    ],
)
def test_who_looks_for_a_message_is_offered_those_of_this_machine(offered: list[str], kept: list[str]) -> None:
    """No part of it is messy; what no tag brings about, any machine has. When nothing is left, all are offered."""
    assert about_machine(book_of("  - wait: 5 min\n"), offered) == kept


@pytest.mark.parametrize(
    ("steps", "named"),
    [
        ("  - caution: running-caution\n  - run: pump\n", ["pump"]),
        ("  - run: motor\n  - caution: running-caution\n  - run: pump\n  - run: fan\n  - run: pump\n", ["pump", "fan"]),
        ("  - caution: running-caution\n  - remove: cover\n", []),
        (
            "sections:\n  - {title: One, steps: [{caution: running-caution}, {run: pump}]}\n"
            "  - {title: Two, steps: [{run: fan}]}\n",
            ["pump"],
        ),
    ],
)
def test_what_the_runs_below_a_message_name(steps: str, named: list[str]) -> None:
    book = book_of(steps)
    message = next(entry for entry in book.entries if entry.step.verb.name == "caution")
    assert named_by_runs(book, book.library.hazards["running"], message) == named
    assert named_by_runs(book, book.library.hazards["hot"], message) == []
