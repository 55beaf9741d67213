"""Every name that a guide uses, and what it may stand for."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.known_names import Names
from putback.guide.names import uses_of
from putback.guide.reading import read_guide
from putback.lint.guides import lint
from putback.model.verb import AnyVerb
from putback.model.verbs import VERBS
from tests.conftest import Write

MACHINE = """\
machine: Bench pump
options: {drive: [belt, gear]}
exclude: [{drive: gear}]
controls:
  tap: {positions: [open, closed], normal: open}
parts:
  lid: {when: {drive: belt}, needs: {tap: closed}}
fasteners:
  screws: {count: 4, secures: [lid, hose], to: lid, compound: grease}
lines:
  hose: {joins: [lid]}
fluids:
  oil: {drains: [screws], fills: [tap], vents: [hose]}
stacks: [[lid], {when: {drive: gear}, order: [screws]}]
access-after: {oil: [hose]}
needs: {run: {tap: open}}
"""

JOB = """\
job: All verbs
sections:
  - title: One
    when: {drive: belt}
    steps:
      - remove: lid
        tool: wrench
      - set: tap
        to: closed
      - apply: grease
        to: [lid, screws]
      - clean: lid
        with: grease
      - lift: lid
        with: stand
      - disconnect: hose
        at: lid
      - caution: hot
      - place: stand
      - do: look
      - run: engine
      - check: lid
        name: first
        otherwise:
          - back-to: first
"""


def test_every_use_is_there(write_guide: Write) -> None:
    guide = read_guide(
        write_guide(
            {
                "pump/machine.yaml": MACHINE,
                "pump/jobs/look.yaml": JOB,
                "pump/blocks/look.yaml": (
                    "block: Look\nends-with: [lid]\nbegins-with: [stand]\nsteps:\n"
                    "  - inspect: lid\n    note: Look for cracks.\n"
                ),
                "pump/equipment.yaml": "stand: {}\n",
                "pump/consumables.yaml": "grease: {}\n",
                "pump/cautions.yaml": "hot: {signal: warning, hazard: a, consequence: b, avoid: [c], covers: [heat]}\n",
            }
        )
    )
    assert guide.faults == ()
    uses = [(use.user, use.ref.name) for use in uses_of(guide)]
    assert uses == [
        ("tap has no position", "open"),
        ("when", "drive"),
        ("option drive has no choice", "belt"),
        ("needs", "tap"),
        ("tap has no position", "closed"),
        ("secures", "lid"),
        ("secures", "hose"),
        ("to", "lid"),
        ("compound", "grease"),
        ("joins", "lid"),
        ("drains", "screws"),
        ("fills", "tap"),
        ("vents", "hose"),
        ("stacks", "lid"),
        ("when", "drive"),
        ("option drive has no choice", "gear"),
        ("stacks", "screws"),
        ("access-after", "oil"),
        ("access-after", "hose"),
        ("when", "drive"),
        ("option drive has no choice", "gear"),
        ("needs", "tap"),
        ("tap has no position", "open"),
        ("covers", "heat"),
        ("when", "drive"),
        ("option drive has no choice", "belt"),
        ("tool", "wrench"),
        ("remove", "lid"),
        ("set", "tap"),
        ("tap has no position", "closed"),
        ("apply", "grease"),
        ("to", "lid"),
        ("to", "screws"),
        ("clean", "lid"),
        ("with", "grease"),
        ("lift", "lid"),
        ("with", "stand"),
        ("disconnect", "hose"),
        ("hose has no end", "lid"),
        ("caution", "hot"),
        ("place", "stand"),
        ("do", "look"),
        ("check", "lid"),
        ("no earlier step is called", "first"),
        ("ends-with", "lid"),
        ("begins-with", "stand"),
        ("inspect", "lid"),
    ]


def test_uses_of_a_shared_block_are_there_once_and_only_when_it_is_done(write_guide: Write) -> None:
    block = "block: Look\nsteps:\n  - inspect: somewhere\n    note: Look for cracks.\n"
    files: dict[str, str | bytes | None] = {"shared/blocks/look.yaml": block, "shared/blocks/other.yaml": block}
    done = "job: Look\nsteps:\n  - do: look\n  - reverse: look\n"
    folder = write_guide({**files, "pump/jobs/look.yaml": done})
    assert [use.ref.name for use in uses_of(read_guide(folder))].count("somewhere") == 1


def test_every_verb_takes_something_or_words() -> None:
    telling = {"wait", "note", "stop"}
    assert {name for name, verb in VERBS.items() if not verb.takes and not verb.words} == telling


@pytest.mark.parametrize("verb", VERBS.values(), ids=lambda verb: verb.name)
def test_the_verb_that_was_meant_takes_what_the_written_one_does_not(verb: AnyVerb) -> None:
    for kind, meant in verb.better.items():
        assert kind not in verb.takes
        # The plug of a drain is not drained, but taken out.
        assert kind in VERBS[meant].takes


STEPS = {
    "remove: hose": "write 'disconnect: hose'",
    "install: hose": "write 'connect: hose'",
    "disconnect: lid": "write 'remove: lid'",
    "connect: lid": "write 'install: lid'",
    "drain: screws": "write 'remove: screws'",
    "remove: oil": "write 'drain: oil'",
    "install: oil": "write 'fill: oil'",
    "remove: stand": "write 'take-away: stand'",
    "install: stand": "write 'place: stand'",
    "remove: screw": "did you mean 'screws'?",
    "inspect: hosse": "did you mean 'hose'?",
    "caution: hott": "did you mean 'hot'?",
    "place: stnad": "did you mean 'stand'?",
    "do: lok": "did you mean 'look'?",
    "remove: flywheel": None,
}


@pytest.mark.parametrize(("step", "hint"), STEPS.items(), ids=STEPS)
def test_hints(step: str, hint: str | None, write_guide: Write) -> None:
    write_guide(
        {
            "pump/machine.yaml": MACHINE.replace("exclude: [{drive: gear}]\n", "").replace(", compound: grease", ""),
            "pump/jobs/look.yaml": f"job: Look\nsteps:\n  - {step}\n",
            "pump/blocks/look.yaml": "block: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n",
            "pump/equipment.yaml": "stand: {}\n",
            "pump/cautions.yaml": "hot: {signal: warning, hazard: a, consequence: b, avoid: [c], covers: [the heat]}\n",
        }
    )
    findings = [finding for finding in lint([Path("pump")]).findings if finding.check == "unknown-name"]
    assert [finding.hint for finding in findings] == [hint]


def test_what_a_name_stands_for(write_guide: Write) -> None:
    guide = read_guide(write_guide({"pump/machine.yaml": MACHINE, "shared/tools.yaml": "lid: {}\n"}))
    names = Names(guide.machine, guide.library)
    assert [names.kind_of(name) for name in ("lid", "hose", "oil", "tap", "drive", "nothing")] == [
        "part",
        "line",
        "fluid",
        "control",
        "option",
        None,
    ]
    assert names.of(("part", "line")) == ["lid", "hose"]
    assert names.of(("tool",)) == ["lid"]
    assert Names(None, guide.library).kind_of("hose") is None
