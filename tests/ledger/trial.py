"""A small machine with everything that has an account, and jobs and blocks on it."""

from __future__ import annotations

import re
from collections.abc import Mapping

from putback.ledger import Book, open_book
from putback.model.build_job import build_block, build_job
from putback.model.build_machine import build_machine
from putback.model.job import Block, Step
from putback.model.library import Consumable, Equipment, Hazard, Library, SafetyMessage
from putback.model.machine import Machine
from putback.model.states import State
from putback.model.terms import Need, Ref, Signal
from putback.source.load import Mapping as Tree
from putback.source.load import load_text
from putback.source.span import top_of
from putback.variants.graph import Graph

MACHINE = """
machine: Trial pump
options:
  drive: [belt, gear]
controls:
  seacock: {positions: [open, closed], normal: open}
  selector: {positions: [neutral, forward, reverse], normal: neutral}
parts:
  body: {}
  tail: {}
  cover: {}
  gasket: {replace: always}
  impeller: {replace: always, rotation: clockwise, tags: [sharp]}
  guard: {when: {drive: belt}}
  tensioner: {adjustable: true}
  cam: {adjustable: true, wear: {measure: height at the peak, limit: ">= 6.4 mm"}}
fasteners:
  screws: {count: 6, torque: 2 N·m, secures: cover, compound: grease}
  guard-bolts: {count: 2, torque: 9 N·m, secures: guard, when: {drive: belt}}
  tensioner-bolt: {torque: 22 N·m, secures: tensioner}
  clamp: {secures: hose, releases-when: loose, drive: slot 6 mm}
  pin: {replace: always}
  drain: {torque: 12 N·m}
  plug: {torque: 10 N·m, tags: [oily]}
lines:
  hose: {joins: [body, tail]}
fluids:
  coolant: {drains: [drain, seacock], fills: [body], tags: [hot]}
  oil: {drains: [plug], fills: [plug]}
stacks:
  - [cover, gasket, impeller]
access-after:
  screws: [guard]
"""


def machine_of(text: str = MACHINE) -> Machine:
    loaded = load_text(text, "machine.yaml")
    assert isinstance(loaded.root, Tree), loaded.faults
    machine, faults = build_machine(loaded.root, "machine.yaml")
    assert faults == []
    return machine


def block_of(text: str, name: str = "b") -> Block:
    loaded = load_text(f"block: Trial\n{text}", f"blocks/{name}.yaml")
    assert isinstance(loaded.root, Tree), loaded.faults
    block, faults = build_block(loaded.root, f"blocks/{name}.yaml")
    assert faults == []
    return block


def _named(name: str) -> dict[str, object]:
    return {"key": name, "span": top_of("shared.yaml"), "name": name}


def library_of(blocks: Mapping[str, Block]) -> Library:
    """Return equipment, one consumable and two hazards, each with its caution."""
    where = top_of("shared.yaml")

    def hazard(name: str, verbs: tuple[str, ...], tags: tuple[str, ...], gone: tuple[Need, ...] = ()) -> Hazard:
        return Hazard(
            key=name,
            span=where,
            name=name,
            signal_at_least=Signal.WARNING,
            verbs=verbs,
            tags=tags,
            ppe=(),
            safe_when=gone,
        )

    def caution(name: str, covers: str) -> SafetyMessage:
        return SafetyMessage(
            key=name, span=where, name=name, signal=Signal.WARNING, hazard="It burns.", consequence="It hurts.",
            avoid=("Keep off.",), covers=(Ref(covers, where),), ppe=(),
        )  # fmt: skip

    return Library(
        equipment={name: Equipment(key=name, span=where, name=name, rated_load=None) for name in ("stand", "pan")},
        consumables={"grease": Consumable(key="grease", span=where, name="grease", tags=(Ref("messy", where),))},
        hazards={
            "running": hazard("running", ("run",), ()),
            "sharp": hazard("sharp", (), ("sharp",)),
            "hot": hazard("hot", (), ("hot",), (Need(Ref("selector", where), Ref("neutral", where)),)),
            "messy": hazard("messy", (), ("messy",)),
            "oily": hazard("oily", ("drain", "tighten"), ("oily",)),
        },
        cautions={
            f"{name}-caution": caution(f"{name}-caution", name) for name in ("running", "sharp", "hot", "messy", "oily")
        },
        blocks=blocks,
    )


def book_of(steps: str, blocks: Mapping[str, str] | None = None, machine: str = MACHINE) -> Book:
    """Walk a job; `steps` is its file from `steps:` or `sections:` on, or steps without a head."""
    body = steps if re.match(r"\s*(steps|sections):", steps) else f"steps:\n{steps}"
    loaded = load_text(f"job: Trial\n{body}", "jobs/j.yaml")
    assert isinstance(loaded.root, Tree), loaded.faults
    job, faults = build_job(loaded.root, "jobs/j.yaml")
    assert faults == []
    shelf = {name: block_of(text, name) for name, text in (blocks or {}).items()}
    return open_book(job, Graph(machine_of(machine)), library_of(shelf))


def book_of_block(text: str, machine: str = MACHINE) -> Book:
    return open_book(block_of(text), Graph(machine_of(machine)), library_of({}))


def plain(state: State) -> dict[str, object]:
    """Return a state without the numbers of the entries that made it so."""
    return {name: value for name, value in state._asdict().items() if not name.endswith("_by")}


def only(book: Book, account: str) -> State:
    """Return the one state that an account closes with in all variants."""
    [(_, state)] = book.closing(account)
    return state


def said(step: Step) -> str:
    """Return a step in short: `install gasket new`, `tighten screws 2`."""
    words = [step.verb.name, *(ref.name for ref in step.things)]
    for name in ("count", "new", "turn", "to", "at"):
        value = getattr(step.action, name, None) if name in type(step.action).__annotations__ else None
        if isinstance(value, Ref):
            words.append(value.name)
        elif isinstance(value, tuple):
            words += [ref.name for ref in value]
        elif value:
            words.append(name if value is True else str(value))
    return " ".join(words)
