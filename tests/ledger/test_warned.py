"""Which messages answer a hazard, and what they warn of."""

from __future__ import annotations

import pytest

from putback.ledger.warned import about_machine
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
