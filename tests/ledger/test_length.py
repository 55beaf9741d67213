"""How long a job is when its blocks are written out."""

from __future__ import annotations

from putback.ledger.length import MOST_STEPS, Lengths
from tests.ledger.trial import block_of


def lengths_of(blocks: dict[str, str]) -> Lengths:
    return Lengths({name: block_of(text, name) for name, text in blocks.items()})


def test_steps_of_blocks_count_as_often_as_they_are_done() -> None:
    lengths = lengths_of({
        "a": "steps: [{do: b}, {reverse: b}, {inspect: p, otherwise: [{do: b}]}]",
        "b": "steps: [{remove: p}, {check: x, otherwise: [{install: p}]}]",
    })  # fmt: skip
    assert lengths.of(lengths.blocks["b"]) == 3
    assert lengths.of(lengths.blocks["a"]) == 1 + 3 * 3


def test_a_doubling_is_counted_and_not_written_out() -> None:
    deep = {f"b{n}": f"steps: [{{do: b{n + 1}}}, {{do: b{n + 1}}}]" for n in range(200)}
    lengths = lengths_of({**deep, "b200": "steps: [{inspect: p}]"})
    assert lengths.of(lengths.blocks["b0"]) == 2**200
    assert lengths.too_long(lengths.blocks["b0"])
    assert lengths.of(lengths.blocks["b199"]) == 2 <= MOST_STEPS


def test_a_chain_of_a_thousand_blocks_is_no_trouble() -> None:
    chain = {f"b{n}": f"steps: [{{do: b{n + 1}}}]" for n in range(1000)}
    lengths = lengths_of({**chain, "b1000": "steps: [{inspect: p}]"})
    assert lengths.of(lengths.blocks["b0"]) == 1


def test_what_leads_into_itself_ends() -> None:
    lengths = lengths_of({"a": "steps: [{inspect: p}, {do: b}]", "b": "steps: [{do: a}, {remove: p}]"})
    assert lengths.of(lengths.blocks["a"]) >= 2


def test_the_block_that_makes_it_long_is_named() -> None:
    lengths = lengths_of({
        "a": "steps: [{do: short}, {do: long}]", "short": "steps: [{inspect: p}]",
        "long": "steps: [{inspect: p}, {remove: p}, {install: p}]",
    })  # fmt: skip
    lengths.of(lengths.blocks["a"])
    longest = lengths.longest(lengths.blocks["a"])
    assert longest is not None
    assert longest.name == "long"


def test_so_many_steps_are_walked_and_no_more() -> None:
    lengths = lengths_of({
        "all": f"steps: [{', '.join(['{do: ten}'] * (MOST_STEPS // 10))}]",
        "more": "steps: [{do: all}, {inspect: p}]",
        "ten": f"steps: [{', '.join(['{inspect: p}'] * 10)}]",
    })  # fmt: skip
    assert [lengths.of(lengths.blocks[name]) - MOST_STEPS for name in ("all", "more")] == [0, 1]
    assert [lengths.too_long(lengths.blocks[name]) for name in ("all", "more")] == [False, True]
