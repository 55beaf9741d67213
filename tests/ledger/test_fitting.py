"""Where a block is done, or reversed, that does not fit."""

from __future__ import annotations

import pytest

from putback.ledger.fitting import for_nothing, misfits
from tests.ledger.trial import book_of

BLOCKS = {
    "safe": "ends-with: [seacock]\nsteps: [{set: seacock, to: closed}]\n",
    "open-up": "begins-with: [seacock]\nends-with: [seacock, screws, cover]\nsteps: [{remove: [screws, cover]}]\n",
    "clean-up": "begins-with: [cover, screws]\nends-with: [cover, screws]\nsteps: [{clean: body}]\n",
    "stand-up": "ends-with: [stand]\nsteps: [{place: stand}]\n",
    "unhook": "ends-with: [hose]\nsteps: [{disconnect: hose}]\n",
}


def found(steps: str) -> list[tuple[str, tuple[tuple[str, bool, int], ...]]]:
    """Return the blocks that do not fit, each with what is not so, whether it should be away, and what made it so."""
    return [
        (one.doing.ref.name, tuple((unfit.name, unfit.away, unfit.since) for unfit in one.unfit))
        for one in misfits(book_of(steps, BLOCKS))
    ]


SAFE, BACK = "  - do: safe\n", "  - reverse: safe\n"


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        (f"{SAFE}  - do: open-up\n", []),
        ("  - do: open-up\n", [("open-up", (("seacock", True, -1),))]),
        ("  - do: [unheard-of, open-up]\n", [("open-up", (("seacock", True, -1),))]),
        ("  - do: [safe, open-up]\n  - reverse: [safe, open-up]\n", []),
        ("  - do: safe\n  - set: seacock\n    to: open\n  - do: open-up\n", [("open-up", (("seacock", True, 1),))]),
        (f"{SAFE}  - do: open-up\n  - do: clean-up\n", []),
        ("  - do: clean-up\n", [("clean-up", (("cover", True, -1), ("screws", True, -1)))]),
        (f"{SAFE}  - do: open-up\n  - install: cover\n  - do: clean-up\n", [("clean-up", (("cover", True, 3),))]),
        # What it takes away must be there.
        (f"{SAFE}  - remove: cover\n  - do: open-up\n", [("open-up", (("cover", False, 1),))]),
        (f"{SAFE}  - remove: screws\n    count: 5\n  - do: open-up\n", []),
        ("  - disconnect: hose\n    at: tail\n  - do: unhook\n", []),
        ("  - disconnect: hose\n  - do: unhook\n", [("unhook", (("hose", False, 0),))]),
        ("  - place: stand\n  - do: stand-up\n", [("stand-up", (("stand", False, 0),))]),
        # The way back begins with what the block leaves.
        (f"{SAFE}  - do: open-up\n  - reverse: open-up\n{BACK}", []),
        (f"{SAFE}  - reverse: open-up\n", [("open-up", (("screws", True, -1), ("cover", True, -1)))]),
        ("  - reverse: stand-up\n", [("stand-up", (("stand", True, -1),))]),
        ("  - do: stand-up\n  - reverse: stand-up\n", []),
        ("  - reverse: unhook\n", [("unhook", (("hose", True, -1),))]),
        # To set a control to where it is does no harm, unless there is nothing else to it.
        (BACK, [("safe", (("seacock", True, -1),))]),
        (f"  - set: seacock\n    to: open\n{BACK}", []),
        (f"{SAFE}  - set: seacock\n    to: open\n{BACK}", []),
        (f"{SAFE}{SAFE}", [("safe", (("seacock", False, 0),))]),
        (f"  - set: seacock\n    to: closed\n{SAFE}", []),
    ],
)
def test_a_block_fits_where_all_is_so_that_it_begins_with(
    steps: str, expected: list[tuple[str, tuple[tuple[str, bool, int], ...]]]
) -> None:
    assert found(steps) == expected


@pytest.mark.parametrize(
    ("between", "idle"),
    [
        ("", True),
        ("  - note: Here.\n", True),
        ("  - caution: hot-caution\n", True),
        ("  - clean: cover\n", False),
        ("  - do: open-up\n  - reverse: open-up\n", False),
    ],
)
def test_who_makes_it_safe_and_undoes_that_at_once(between: str, idle: bool) -> None:
    assert bool(list(for_nothing(book_of(f"{SAFE}{between}{BACK}", BLOCKS)))) is idle


def test_what_comes_after_it_does_not_matter() -> None:
    later = "  - do: stand-up\n  - clean: cover\n  - reverse: stand-up\n"
    for steps, index in ((f"{SAFE}{BACK}{later}", 0), (f"{later}{SAFE}{BACK}{later}", 3)):
        [run] = for_nothing(book_of(steps, BLOCKS))
        assert run.entries[0].index == index


def test_a_block_that_takes_something_off_may_be_reversed_at_once() -> None:
    assert list(for_nothing(book_of("  - do: open-up\n  - reverse: open-up\n", BLOCKS))) == []
    assert list(for_nothing(book_of("  - do: stand-up\n  - reverse: stand-up\n", BLOCKS))) == []
    [run] = for_nothing(book_of(f"  - do: unhook\n  - reverse: unhook\n{SAFE}{BACK}", BLOCKS))
    assert run.ref.name == "safe"


@pytest.mark.parametrize(
    ("steps", "maker", "done", "wanted"),
    [
        ("  - do: open-up\n", "safe", set(), ["closed"]),
        ("  - do: clean-up\n", "open-up", set(), ["off", "off"]),
        ("  - reverse: stand-up\n", "stand-up", set(), ["placed"]),
        ("  - do: unhook\n  - do: unhook\n", "unhook", {"unhook"}, ["on"]),
        (f"{SAFE}  - do: open-up\n  - install: cover\n  - do: clean-up\n", "open-up", set(), ["off"]),
        (f"{SAFE}  - do: open-up\n  - reverse: open-up\n  - do: clean-up\n", "open-up", set(), ["off", "off"]),
        (f"{SAFE}  - do: open-up\n{BACK}  - do: open-up\n", None, {"open-up"}, ["closed", "on", "on"]),
    ],
)
def test_which_block_would_bring_it_about(steps: str, maker: str | None, done: set[str], wanted: list[str]) -> None:
    book = book_of(steps, BLOCKS)
    misfit = list(misfits(book))[-1]
    assert misfit.maker(book) == maker
    assert misfit.done_before(book) == done
    assert [unfit.wanted(book) for unfit in misfit.unfit] == wanted


def test_of_several_blocks_that_one_which_leaves_least_behind() -> None:
    more = {**BLOCKS, "a-lot": "ends-with: [seacock, stand]\nsteps: [{set: seacock, to: closed}, {place: stand}]\n"}
    book = book_of("  - do: open-up\n", more)
    [misfit] = misfits(book)
    assert misfit.maker(book) == "safe"
