"""What a run heats, and what lets it cool."""

from __future__ import annotations

import pytest

from putback.ledger.heat import looks_closely, runs_on, still_hot
from putback.variants import NONE
from tests.ledger.trial import book_of

PLAIN = """
machine: Trial engine
controls:
  key: {positions: ["off", "on"], normal: "off"}
parts: {engine: {}, cover: {}}
needs: {run: {key: "on"}}
"""

TOLD = """
machine: Trial engine
controls:
  key: {positions: ["off", "on"], normal: "off"}
  lamp: {positions: [dark, lit], normal: dark}
  warmth: {positions: [cold, hot], normal: cold, any-at-end: true}
parts: {engine: {}, cover: {}}
needs: {run: {key: "on"}}
results-in: {run: {warmth: hot, lamp: lit}}
"""

RUN = '  - set: key\n    to: "on"\n  - run: engine\n  - set: key\n    to: "off"\n'


@pytest.mark.parametrize("machine", [PLAIN, TOLD])
@pytest.mark.parametrize(
    ("steps", "hot"),
    [
        ("", False),
        (RUN, True),
        (f"{RUN}  - wait: 19 min\n", True),
        (f"{RUN}  - wait: 20 min\n", False),
        (f"{RUN}  - wait: 10 min\n    until: the engine is cold\n", False),
        (f"{RUN}  - wait: 10 min\n    text: Let it cool.\n", False),
        (f"{RUN}  - wait: 10 min\n    until: the oil is back in the pan\n", True),
        (f"{RUN}  - wait: 1 h\n{RUN}", True),
        (f"  - wait: 1 h\n{RUN}", True),
    ],
)
def test_an_engine_is_hot_from_a_run_until_it_has_cooled(machine: str, steps: str, hot: bool) -> None:
    book = book_of(f"{steps}  - inspect: cover\n", machine=machine)
    assert (still_hot(book, book.entries[-1]) != NONE) is hot


def test_what_tells_the_heat_is_what_may_stay_as_it_is() -> None:
    """A lamp that a run lights is switched off again, and the engine is as hot as before."""
    lamp, cold = "  - set: lamp\n    to: dark\n", "  - set: warmth\n    to: cold\n"
    for steps, hot in ((f"{RUN}{lamp}", True), (f"{RUN}{cold}", False), (f"{RUN}{cold}{RUN}", True)):
        book = book_of(f"{steps}  - inspect: cover\n", machine=TOLD)
        assert (still_hot(book, book.entries[-1]) != NONE) is hot


def test_what_nothing_stops_runs_on() -> None:
    bare = "machine: Trial\nparts: {engine: {}, cover: {}}\n"
    book = book_of("  - inspect: cover\n  - run: engine\n  - inspect: cover\n", machine=bare)
    assert [runs_on(book, entry) != NONE for entry in book.entries] == [False, False, True]
    book = book_of(f"  - inspect: cover\n{RUN}  - inspect: cover\n", machine=PLAIN)
    assert [runs_on(book, entry) != NONE for entry in book.entries] == [False, False, False, True, False]


@pytest.mark.parametrize(
    ("step", "closely"),
    [
        ("inspect: cover", True),
        ("measure: cover\n    limit: 1 mm .. 2 mm", True),
        ("check: cover\n    limit: dry", False),
        ("check: cover\n    limit: dry\n    tool: torch", True),
        ("check: cover\n    limit: dry\n    tool: inspection-mirror", True),
        ("check: cover\n    limit: dry\n    tool: ruler", False),
        ("clean: cover\n    tool: torch", False),
    ],
)
def test_who_looks_with_a_light_looks_closely(step: str, closely: bool) -> None:
    book = book_of(f"  - {step}\n", machine=PLAIN)
    assert looks_closely(book.entries[-1]) is closely
