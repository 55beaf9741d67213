"""What words say of something that runs."""

from __future__ import annotations

import pytest

from putback.ledger.running import says_stopped


@pytest.mark.parametrize(
    "text",
    [
        "stop the engine. have a professional look at it.",
        "switch the generator off, then close the tap.",
        "turn the key to off; the pump leaks.",
        "shut the engine down at once.",
        "pull the lanyard.",
    ],
)
def test_words_that_stop_it(text: str) -> None:
    assert says_stopped(text)


@pytest.mark.parametrize(
    "text",
    [
        "the exhaust is blocked. do not use the motor.",
        "stop the engine if it knocks.",
        "when it smokes, switch it off.",
        "it will not stop leaking.",
        "do the job again from the stop nut.",
    ],
)
def test_words_that_do_not(text: str) -> None:
    assert not says_stopped(text)
