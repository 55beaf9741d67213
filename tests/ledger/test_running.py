"""What words say of something that runs."""

from __future__ import annotations

import pytest

from putback.ledger.running import running_needs, runs_it, says_stopped, still_runs, what_runs, words_before
from tests.ledger.trial import book_of


@pytest.mark.parametrize(
    "text",
    [
        "stop the engine. have a professional look at it.",
        "switch the generator off, then close the tap.",
        "turn the key to off; the pump leaks.",
        "shut the engine down at once.",
        "pull the lanyard.",
        "stop it.",
        "switch off the fan at the wall.",
        "turn the big red key to off.",
        "release the trigger.",
        "let go of the bar.",
        "unplug the saw.",
        "let the fire burn out.",
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
        "release the spring.",
        "stop here: ask a professional.",
        "turn the shaft.",
    ],
)
def test_words_that_do_not(text: str) -> None:
    assert not says_stopped(text)


MACHINE = """
machine: Trial mower
kind: walk-behind mower
options: {start: [hand, electric]}
controls:
  key: {positions: ["off", "on"], normal: "off"}
  gear: {positions: [neutral, first], normal: neutral}
  throttle: {positions: [idle, full], normal: idle}
  warmth: {positions: [cold, hot], normal: cold, any-at-end: true}
  master: {positions: [open, closed], normal: open, when: {start: electric}}
parts: {mower: {name: mower}, fuel-pump: {name: lift pump}}
needs: {run: {key: "on", gear: neutral, warmth: cold, nothing: such}}
results-in: {run: {throttle: full, warmth: hot}}
"""

KEY = '  - set: key\n    to: "on"\n'
OFF = '  - set: key\n    to: "off"\n'
RUN = f"{KEY}  - run: mower\n"


@pytest.mark.parametrize(
    ("steps", "runs"),
    [
        ("", False),
        (RUN, True),
        (f"{RUN}{OFF}", False),
        (f"{RUN}{OFF}{KEY}", False),
        (f"{RUN}{KEY}", False),
        (f"{RUN}{OFF}{RUN}", True),
        (f"{RUN}  - set: throttle\n    to: idle\n", False),
        (f"{RUN}  - set: gear\n    to: first\n", False),
        (f"{RUN}  - set: warmth\n    to: cold\n", True),
        ("  - run: mower\n", False),
    ],
)
def test_it_runs_until_a_control_that_it_needs_is_set(steps: str, runs: bool) -> None:
    book = book_of(f"{steps}  - inspect: mower\n", machine=MACHINE)
    assert (still_runs(book, book.entries[-1]) is not None) is runs


def test_it_does_not_run_yet_where_it_is_started() -> None:
    book = book_of(RUN, machine=MACHINE)
    assert still_runs(book, book.entries[-1]) is None


def test_it_runs_in_the_variants_in_which_nothing_stopped_it() -> None:
    book = book_of(f"{RUN}{OFF}    when: {{start: hand}}\n  - inspect: mower\n", machine=MACHINE)
    running = still_runs(book, book.entries[-1])
    assert running is not None
    assert (running.run.index, running.variants) == (1, book.graph.space.chosen("start", ["electric"]))


@pytest.mark.parametrize(
    ("more", "names"),
    [
        ("", ["key", "gear", "throttle"]),
        ("can-start: {gear: neutral}\n", ["key", "gear", "throttle"]),
        ('can-start: {key: "on"}\n', ["key", "throttle"]),
    ],
)
def test_what_stops_it(more: str, names: list[str]) -> None:
    book = book_of("  - note: a\n", machine=f"{MACHINE}{more}")
    assert [need.control.name for need in running_needs(book)] == names


@pytest.mark.parametrize(
    ("name", "called", "own"),
    [
        ("mower", "mower", True),
        ("fuel-pump", "lift pump", True),
        ("the engine", "engine", True),
        ("a motor", "motor", True),
        ("the walk behind unit", "walk behind unit", True),
        ("an air pump", "air pump", False),
        ("the starter motor", "starter motor", False),
        ("crank the engine", "crank the engine", False),
    ],
)
def test_what_a_run_runs(name: str, called: str, own: bool) -> None:
    book = book_of(f"  - run: {name}\n", machine=MACHINE)
    assert (what_runs(book, book.entries[0]), runs_it(book, book.entries[0])) == (called, own)


def test_the_words_between_two_steps() -> None:
    book = book_of(
        """\
  - note: Not this.
  - run: mower
    text: Start IT.
  - note: Then wait.
  - inspect: mower
    note: Look well.
  - note: Nor this.
""",
        machine=MACHINE,
    )
    start, end = book.entries[1], book.entries[3]
    assert list(words_before(book, start, end)) == ["start it.", "then wait.", "look well."]
