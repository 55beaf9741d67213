"""What does what: loops and depth of blocks are found before anything is written out, and nothing falls over them."""

from __future__ import annotations

import pytest

from putback.guide.nesting import DEEPEST_BLOCKS, Nesting
from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.ledger.reverse import reverse
from putback.sheet import sheet_of
from tests.conftest import Putback, Write

Files = dict[str, str | bytes | None]

OTHERWISE = "  - check: lid\n    limit: sits\n    otherwise:\n"


def block(steps: str) -> str:
    return f"block: B\nsteps:\n{steps}"


def does(name: str, verb: str = "do") -> str:
    return block(f"  - {verb}: {name}\n")


def in_otherwise(name: str, verb: str = "do") -> str:
    return block(f"{OTHERWISE}      - {verb}: {name}\n")


JOB_DOES_A = "job: Look\nsteps:\n  - do: a\n"

LOOPS: dict[str, tuple[Files, list[str]]] = {
    "itself in otherwise": (
        {"shared/blocks/a.yaml": in_otherwise("a")},
        ["shared/blocks/a.yaml:6:13 the block contains itself: a contains a"],
    ),
    "itself": (
        {"shared/blocks/a.yaml": does("a")},
        ["shared/blocks/a.yaml:3:9 the block contains itself: a contains a"],
    ),
    "undoes itself": (
        {"shared/blocks/a.yaml": does("a", "reverse")},
        ["shared/blocks/a.yaml:3:14 the block contains itself: a contains a"],
    ),
    "each other, shared": (
        {"shared/blocks/a.yaml": does("b"), "shared/blocks/b.yaml": does("a")},
        ["shared/blocks/a.yaml:3:9 the block contains itself: a contains b contains a"],
    ),
    "each other, by reverse in otherwise": (
        {"shared/blocks/a.yaml": in_otherwise("b", "reverse"), "shared/blocks/b.yaml": in_otherwise("a", "reverse")},
        ["shared/blocks/a.yaml:6:18 the block contains itself: a contains b contains a"],
    ),
    "own and shared": (
        {"shared/blocks/a.yaml": does("b"), "pump/blocks/b.yaml": in_otherwise("a")},
        ["pump/blocks/b.yaml:6:13 the block contains itself: b contains a contains b"],
    ),
    "in a section": (
        {"pump/blocks/a.yaml": "block: A\nsections:\n  - title: S\n    steps:\n      - do: a\n"},
        ["pump/blocks/a.yaml:5:13 the block contains itself: a contains a"],
    ),
    "behind another": (
        {"pump/blocks/a.yaml": does("b"), "shared/blocks/b.yaml": does("c"), "shared/blocks/c.yaml": does("b")},
        ["shared/blocks/b.yaml:3:9 the block contains itself: b contains c contains b"],
    ),
    "two loops": (
        {
            "pump/blocks/a.yaml": block("  - do: a\n  - do: b\n"),
            "pump/blocks/b.yaml": does("a"),
        },
        [
            "pump/blocks/a.yaml:3:9 the block contains itself: a contains a",
            "pump/blocks/b.yaml:3:9 the block contains itself: b contains a contains b",
        ],
    ),
    "nobody does it": (
        {
            "pump/blocks/a.yaml": block("  - inspect: lid\n    note: Look for cracks.\n"),
            "shared/blocks/c.yaml": does("c"),
        },
        ["shared/blocks/c.yaml:3:9 the block contains itself: c contains c"],
    ),
    "a long one": (
        {f"shared/blocks/{name}.yaml": does(after) for name, after in zip("abcdefgh", "bcdefgha", strict=True)},
        [
            "shared/blocks/a.yaml:3:9 the block contains itself: a contains b contains c contains d contains e "
            "contains f contains g contains h contains a"
        ],
    ),
}


def told(putback: Putback, check: str = "bad-cycle") -> list[str]:
    found = putback("lint", "--format", "json", "pump").data["findings"]
    assert {each["check"] for each in found} == {check}
    return [f"{each['path']}:{each['line']}:{each['column']} {each['message']}" for each in found]


@pytest.mark.parametrize(("files", "wanted"), LOOPS.values(), ids=LOOPS)
def test_a_block_that_leads_into_itself(files: Files, wanted: list[str], write_guide: Write, putback: Putback) -> None:
    folder = write_guide({"pump/jobs/look.yaml": JOB_DOES_A, **files})
    assert told(putback) == wanted
    # Whatever follows the links, be it for a draft, comes to an end.
    guide = read_guide(folder)
    case = open_guide(guide)
    assert guide.machine is not None
    for sequence in (*guide.jobs.values(), *guide.library.blocks.values()):
        assert (sheet_of(sequence, case) is not None) == case.nesting.can_be_written_out(sequence)
    for each in guide.library.blocks.values():
        reverse(each, guide.machine, guide.library.blocks)
    list(case.in_place())


def test_a_job_beside_a_loop_is_checked(write_guide: Write, putback: Putback) -> None:
    write_guide(
        {
            "pump/jobs/a.yaml": JOB_DOES_A,
            "pump/jobs/b.yaml": "job: Strip\nsteps:\n  - remove: screws\n",
            "shared/blocks/a.yaml": does("a"),
        }
    )
    answer = putback("lint", "pump")
    assert "four screws come off and never go back" in answer.out
    assert answer.out.endswith("2 of 3 jobs, 2 steps in 7 files: 2 errors; not checked: 1 of 3 jobs\n")


def chain(length: int, link: str = "  - do: {name}\n") -> Files:
    files: Files = {f"shared/blocks/b{n:03}.yaml": block(link.format(name=f"b{n + 1:03}")) for n in range(1, length)}
    return {
        **files,
        f"shared/blocks/b{length:03}.yaml": block("  - inspect: lid\n    note: Look for cracks.\n"),
        "pump/jobs/look.yaml": DEEP,
    }


DEEP = "job: Look\nsteps:\n  - do: b001\n"


def test_blocks_as_deep_as_can_be(write_guide: Write, putback: Putback) -> None:
    write_guide(chain(DEEPEST_BLOCKS))
    assert putback("lint", "pump").code == 0


@pytest.mark.parametrize("length", [DEEPEST_BLOCKS + 1, 330, 2000])
def test_blocks_too_deep(length: int, write_guide: Write, putback: Putback) -> None:
    folder = write_guide(chain(length))
    assert told(putback) == [
        f"pump/jobs/look.yaml:3:9 blocks are nested {length} deep, more than the 100 allowed: "
        f"b001 does b002 does b003 does … does b{length:03}"
    ]
    assert "; not checked: 1 of 1 job\n" in putback("lint", "pump").out
    guide = read_guide(folder)
    assert sheet_of(guide.jobs["look"], open_guide(guide)) is None


def test_an_otherwise_around_a_block_counts(write_guide: Write, putback: Putback) -> None:
    nested = "".join(
        f"{'  ' * 2 * depth}  - check: lid\n{'  ' * 2 * depth}    limit: sits\n{'  ' * 2 * depth}    otherwise:\n"
        for depth in range(10)
    )
    write_guide(chain(60, f"{nested}{'  ' * 20}  - do: {{name}}\n{'  ' * 20}  - stop: x\n"))
    assert told(putback) == [
        "pump/jobs/look.yaml:3:9 blocks are nested 650 deep, more than the 100 allowed: "
        "b001 does b002 does b003 does … does b060"
    ]


def test_a_misspelt_block_leads_where_the_ledger_takes_it(write_guide: Write) -> None:
    job = "job: L\nsteps:\n  - do: around\n"
    folder = write_guide({"pump/blocks/around.yaml": does("arround"), "pump/jobs/look.yaml": job})
    guide = read_guide(folder)
    assert Nesting(guide.sequences(), guide.library).knots == {"around"}


def test_a_job_that_does_a_block_that_is_lost_is_not_walked(write_guide: Write, putback: Putback) -> None:
    blocks: Files = {"pump/blocks/a.yaml": does("b"), "pump/blocks/b.yaml": "block: [\n"}
    write_guide({"pump/jobs/look.yaml": JOB_DOES_A, **blocks})
    assert putback("lint", "pump").out.endswith(
        "0 of 1 job, 0 steps in 6 files: 1 error, not everything could be read; "
        "not checked: 1 of 1 job, 2 of 2 blocks\n"
    )


# Shared blocks


SLIPS = {
    "no-way-out": "  - check: lid\n    limit: sits\n",
    "no-limit": "  - measure: lid\n    otherwise: [{stop: Call the workshop.}]\n",
    "no-picture": "  - inspect: lid\n    note: Look for cracks.\n    figure: {image: lid.svg, alt: The lid.}\n",
    "torque-conflict": "  - note: Screws have 9 N·m.\n",
    "never-reached": "  - stop: Call the workshop.\n  - inspect: lid\n    note: Look for cracks.\n",
    "unknown-name": "  - clean: lidd\n",
}


@pytest.mark.parametrize(("check", "steps"), SLIPS.items(), ids=SLIPS)
def test_a_shared_block_is_checked_where_a_job_does_it(
    check: str, steps: str, write_guide: Write, putback: Putback
) -> None:
    blocks: Files = {"shared/blocks/a.yaml": does("b"), "shared/blocks/b.yaml": block(steps)}
    write_guide(blocks)
    # Nobody does it: it may be meant for another machine.
    assert putback("lint", "pump").code == 0
    write_guide({**blocks, "pump/jobs/look.yaml": JOB_DOES_A})
    found = putback("lint", "--format", "json", "pump").data["findings"]
    assert [(each["check"], each["path"]) for each in found] == [(check, "shared/blocks/b.yaml")]


def test_a_stop_for_the_chosen_variant_hides_nothing_of_the_others(write_guide: Write, putback: Putback) -> None:
    write_guide(
        {
            "pump/machine.yaml": "machine: P\noptions: {shaft: [long, short]}\nparts: {lid: {}}\n",
            "pump/jobs/look.yaml": "job: L\nsteps:\n  - stop: Call.\n    when: {shaft: long}\n  - clean: lid\n",
        }
    )
    for variant in ([], ["--variant", "shaft=long"], ["--variant", "shaft=short"]):
        assert putback("lint", "pump", *variant).code == 0
    write_guide(
        {
            "pump/machine.yaml": "machine: P\noptions: {shaft: [long, short]}\nparts: {lid: {}}\n",
            "pump/jobs/look.yaml": "job: L\nsteps:\n  - stop: Call.\n  - clean: lid\n    when: {shaft: long}\n",
        }
    )
    assert [putback("lint", "pump", "--variant", f"shaft={each}").code for each in ("long", "short")] == [1, 0]
