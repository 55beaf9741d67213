"""Whether what hangs on an answer does something about it before the job goes on."""

from __future__ import annotations

import pytest

from putback.ledger.going_on import gone_on
from tests.ledger.trial import block_of, book_of, said

BLOCKS = {
    "looks": "steps: [{inspect: cam}]\n",
    "mends": "steps: [{tighten: screws}]\n",
    "round": "steps: [{do: round}, {note: Go.}]\n",
    "outer": "steps: [{note: 'Turn it back.'}, {do: mends}]\n",
}


def goes_on(branch: str, asked: str = "check: noise\n    limit: no squeal", *, english: bool = True) -> bool:
    """Tell whether a job goes on after a branch with what was bad as it was."""
    book = book_of(f"  - {asked}\n    otherwise: [{branch}]\n", BLOCKS)
    blocks = {name: block_of(text, name) for name, text in BLOCKS.items()}
    return bool(list(gone_on(book.program.orders[0].step, blocks, english=english)))


@pytest.mark.parametrize(
    ("branch", "bad"),
    [
        ("{tighten: screws}", False),
        ("{stop: Buy a new one.}", False),
        ("{act: Bend it.}", False),
        # A note that only says what is so does nothing; one that says what to do, or why one may go on, does.
        ("{note: The belt is worn.}", True),
        ("{note: Record the value.}", True),
        ("{note: 'The belt is worn. It squeals.'}", True),
        ("{note: The belt may squeal when it is new.}", False),
        ("{note: Turn it back.}", False),
        ("{note: 'The belt is worn: turn it round.'}", False),
        ("{note: 'The belt is worn; turn it round.'}", False),
        # So does the note of another step, or its reason.
        ("{lift: cover, note: Turn it round.}", False),
        ("{lift: cover, note: It is worn.}", True),
        ("{lift: cover}", True),
        ("{run: pump}", True),
        ("{mark: cam}", True),
        ("{caution: hot-caution}", True),
        # Who waits for something waits for it to be good.
        ("{wait: 5 min}", True),
        ("{wait: 5 min, until: it is quiet}", False),
        # What is looked at helps when it is the same, or when something is done then.
        ("{inspect: cam}", True),
        ("{inspect: cam, for: wear, otherwise: [{tighten: screws}]}", False),
        ("{inspect: cam, for: wear, otherwise: [{stop: Buy one.}]}", True),
        ("{inspect: cam, for: wear, otherwise: [{note: Turn it back.}]}", True),
        ("{inspect: noise of the cam, for: wear, otherwise: [{stop: Buy one.}]}", False),
        # A tap that is closed is safe, and no better.
        ("{set: seacock, to: closed}", True),
        ("{place: stand}", True),
        ("{take-away: stand}", True),
        # A block does what its steps do; one that nobody knows may do anything.
        ("{do: looks}", True),
        ("{do: mends}", False),
        ("{reverse: mends}", False),
        ("{do: outer}", False),
        ("{do: round}", True),
        ("{do: unheard-of}", False),
        ("{do: [looks, mends]}", False),
    ],
)
def test_what_helps(branch: str, bad: bool) -> None:
    assert goes_on(branch) is bad


@pytest.mark.parametrize(
    ("asked", "branch", "bad"),
    [
        ("check: seacock\n    limit: closed", "{set: seacock, to: closed}", False),
        ("check: seacock\n    limit: tight", "{set: seacock, to: closed}", True),
        ("inspect: seacock\n    for: drops", "{set: seacock, to: closed}", False),
        ("check: selector\n    limit: closed", "{set: seacock, to: closed}", True),
        ("check: stand\n    limit: level", "{place: stand}", False),
        ("check: stand\n    limit: level", "{take-away: stand}", False),
        ("check: pan\n    limit: clean", "{place: pan}", True),
        ("measure: cam\n    limit: 1 mm .. 2 mm", "{note: The cam is worn.}", True),
    ],
)
def test_what_is_done_about_the_same(asked: str, branch: str, bad: bool) -> None:
    """Words of three letters or fewer tell nothing."""
    assert goes_on(branch, asked) is bad


def test_notes_in_another_language_are_not_read() -> None:
    assert not goes_on("{note: The belt is worn.}", english=False)


def test_each_way_out_is_asked_for_itself() -> None:
    book = book_of("""\
  - measure: gap
    limit: 1 mm .. 2 mm
    outcomes:
      - {found: "> 2 mm", steps: [{tighten: screws}]}
      - {found: "< 1 mm", steps: [{lift: cover}, {note: It is worn.}]}
""")
    assert [said(step) for step in gone_on(book.program.orders[0].step, {}, english=True)] == ["note"]
