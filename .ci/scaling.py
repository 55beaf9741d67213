"""Guides of any size, one kind a row, to see how the cost of checking grows.

`python .ci/scaling.py` prints the table of docs/why/speed.md, `python .ci/scaling.py ROW` a row of it; with a
size as well it checks one guide and prints its CPU time, peak memory and findings.
"""

from __future__ import annotations

import json
import math
import resource
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

HEAD = "machine: Bench machine (invented)\n"
STOP = "otherwise:\n      - stop: Do it again.\n"
PROVED = f"  - check: the whole\n    limit: dry, runs\n    {STOP}"
COVER = {"guide.yaml": "title: Scaling\n"}
Texts = dict[str, str]


def job(steps: str) -> str:
    """Return the text of a job."""
    return f"job: Do it\nsteps:\n{steps}"


def steps_2000(n: int) -> Texts:
    """Plain steps: parts off and on."""
    many = n // 2
    parts = "parts:\n" + "".join(f"  p{i}: {{}}\n" for i in range(many))
    off = "".join(f"  - remove: p{i}\n" for i in range(many))
    on = "".join(f"  - install: p{i}\n" for i in reversed(range(many)))
    return {"machine.yaml": HEAD + parts, "jobs/job.yaml": job(off + on + PROVED)}


def checks_back(n: int) -> Texts:
    """Checks that go back to themselves, one after the other."""
    steps = "  - clean: p\n"
    for i in range(n):
        branch = f"[{{clean: p}}, {{back-to: c{i}}}]"
        steps += f"  - check: thing {i}\n    name: c{i}\n    limit: dry\n    otherwise: {branch}\n"
    return {"machine.yaml": HEAD + "parts: {p: {}}\n", "jobs/job.yaml": job(steps)}


def checks_to_start(n: int) -> Texts:
    """Checks whose `otherwise` sets a control of its own and goes back to the start."""
    controls = "controls:\n" + "".join(f"  v{i}: {{positions: [shut, open], normal: shut}}\n" for i in range(n))
    steps = "  - clean: p\n    name: start\n" + "".join(f"  - set: v{i}\n    to: shut\n" for i in range(n))
    for i in range(n):
        steps += f"  - check: thing {i}\n    limit: dry\n    otherwise: [{{set: v{i}, to: open}}, {{back-to: start}}]\n"
    return {"machine.yaml": HEAD + controls + "parts: {p: {}}\n", "jobs/job.yaml": job(steps)}


def checks_left(n: int) -> Texts:
    """The same, but what the branch sets stays set: every combination is a machine of its own."""
    controls = "controls:\n" + "".join(f"  v{i}: {{positions: [shut, open], normal: shut}}\n" for i in range(n))
    steps = "  - clean: p\n    name: start\n"
    for i in range(n):
        steps += f"  - check: thing {i}\n    limit: dry\n    otherwise: [{{set: v{i}, to: open}}, {{back-to: start}}]\n"
    steps += "".join(f"  - set: v{i}\n    to: shut\n" for i in range(n))
    return {"machine.yaml": HEAD + controls + "parts: {p: {}}\n", "jobs/job.yaml": job(steps)}


def checks_of_options(n: int) -> Texts:
    """Checks, each of its own option, that set one control and go back to the start; a part is left off."""
    options = "options:\n" + "".join(f"  o{i}: [without, with]\n" for i in range(n))
    things = "controls:\n  v: {positions: [shut, open], normal: shut}\nparts: {p: {}}\n"
    steps = "  - clean: p\n    name: start\n"
    for i in range(n):
        branch = "[{set: v, to: open}, {back-to: start}]"
        steps += f"  - check: thing {i}\n    when: {{o{i}: with}}\n    limit: dry\n    otherwise: {branch}\n"
    steps += "  - remove: p\n  - set: v\n    to: shut\n"
    return {"machine.yaml": HEAD + options + things, "jobs/job.yaml": job(steps)}


def attached(n: int) -> Texts:
    """Parts with a mass that hang on one part, each with an option of its own."""
    options = "options:\n" + "".join(f"  o{i}: [without, with]\n" for i in range(n))
    parts = "parts:\n  frame: {}\n  engine: {mass: 5 kg}\n" + "".join(
        f"  p{i}: {{mass: 1 kg, when: {{o{i}: with}}}}\n" for i in range(n)
    )
    fasteners = "fasteners:\n  feet: {kind: bolt, torque: 20 N·m, secures: engine, to: frame}\n" + "".join(
        f"  f{i}: {{kind: bolt, torque: 20 N·m, secures: p{i}, to: engine, when: {{o{i}: with}}}}\n" for i in range(n)
    )
    steps = "  - remove: feet\n  - remove: engine\n  - install: engine\n  - install: feet\n  - tighten: feet\n"
    return {"machine.yaml": HEAD + options + parts + fasteners, "jobs/job.yaml": job(steps + PROVED)}


def stack(n: int) -> Texts:
    """A stack in which each part belongs to an option."""
    options = "options:\n" + "".join(f"  o{i}: [without, with]\n" for i in range(n))
    parts = "parts:\n" + "".join(f"  p{i}: {{when: {{o{i}: with}}}}\n" for i in range(n))
    order = "stacks:\n  - [" + ", ".join(f"p{i}" for i in range(n)) + "]\n"
    off = "".join(f"  - remove: p{i}\n" for i in range(n))
    on = "".join(f"  - install: p{i}\n" for i in reversed(range(n)))
    return {"machine.yaml": HEAD + options + parts + order, "jobs/job.yaml": job(off + on + PROVED)}


def _pairs(n: int) -> list[str]:
    return ["{" + f"o{i}: with, o{i + n // 2}: with" + "}" for i in range(n // 2)]


def entangled(n: int) -> Texts:
    """Options that meet in pairs, the first with the middle one and so on, all on one part."""
    options = "options:\n" + "".join(f"  o{i}: [without, with]\n" for i in range(n))
    pairs = _pairs(n)
    parts = "parts:\n  cover: {}\n" + "".join(f"  p{i}: {{when: {pair}}}\n" for i, pair in enumerate(pairs))
    fasteners = "fasteners:\n" + "".join(
        f"  f{i}: {{kind: pin, secures: cover, when: {pair}}}\n" for i, pair in enumerate(pairs)
    )
    steps = "".join(f"  - remove: cover\n    when: {pair}\n" for pair in pairs[:1])
    steps = "".join(f"  - remove: f{i}\n" for i in range(len(pairs))) + "  - remove: cover\n  - install: cover\n"
    steps += "".join(f"  - install: f{i}\n" for i in range(len(pairs)))
    return {"machine.yaml": HEAD + options + parts + fasteners, "jobs/job.yaml": job(steps + PROVED)}


def met(n: int) -> Texts:
    """The same pairs, one part taken off in each of them: all options touch one thing."""
    options = "options:\n" + "".join(f"  o{i}: [without, with]\n" for i in range(n))
    parts = "parts:\n  cover: {}\n"
    pairs = _pairs(n)
    steps = "".join(f"  - remove: cover\n    when: {pair}\n" for pair in pairs)
    steps += "  - install: cover\n"
    return {"machine.yaml": HEAD + options + parts, "jobs/job.yaml": job(steps + PROVED)}


def excluded(n: int) -> Texts:
    """The same pairs, each never built."""
    options = "options:\n" + "".join(f"  o{i}: [without, with]\n" for i in range(n))
    never = "exclude:\n" + "".join(f"  - {pair}\n" for pair in _pairs(n))
    parts = "parts:\n" + "".join(f"  p{i}: {{when: {{o{i}: with}}}}\n" for i in range(n))
    off = "".join(f"  - remove: p{i}\n" for i in range(n))
    on = "".join(f"  - install: p{i}\n" for i in range(n))
    return {"machine.yaml": HEAD + options + never + parts, "jobs/job.yaml": job(off + on + PROVED)}


def all_different(n: int) -> Texts:
    """Options of which no two have the same choice: a set that is large in every order."""
    options = "options:\n" + "".join(f"  o{i}: [{', '.join(f'c{k}' for k in range(n))}]\n" for i in range(n))
    never = "exclude:\n" + "".join(
        f"  - {{o{i}: c{k}, o{j}: c{k}}}\n" for i in range(n) for j in range(i) for k in range(n)
    )
    steps = "  - remove: p\n  - install: p\n"
    return {"machine.yaml": HEAD + options + never + "parts: {p: {}}\n", "jobs/job.yaml": job(steps + PROVED)}


def blocks(n: int) -> Texts:
    """Blocks that do two blocks each, one below the other."""
    texts = {"machine.yaml": HEAD + "parts: {p: {}}\n"}
    for i in range(n):
        texts[f"blocks/b{i}.yaml"] = f"block: B{i}\nsteps:\n  - do: b{i + 1}\n  - do: b{i + 1}\n"
    texts[f"blocks/b{n}.yaml"] = "block: Last\nsteps: [{inspect: p, for: [dirt], otherwise: [{clean: p}]}]\n"
    texts["jobs/job.yaml"] = job("  - do: b0\n" + PROVED)
    return texts


def chain(n: int) -> Texts:
    """Blocks that do one block each, one below the other."""
    texts = {"machine.yaml": HEAD + "parts: {p: {}}\n"}
    for i in range(n):
        texts[f"blocks/b{i}.yaml"] = f"block: B{i}\nsteps:\n  - do: b{i + 1}\n"
    texts[f"blocks/b{n}.yaml"] = "block: Last\nsteps:\n  - remove: p\n  - install: p\n"
    texts["jobs/job.yaml"] = job("  - do: b0\n" + PROVED)
    return texts


def undone(n: int) -> Texts:
    """A block of many steps, done and reversed."""
    many = "parts:\n" + "".join(f"  p{i}: {{}}\n" for i in range(n))
    leaves = "ends-with: [" + ", ".join(f"p{i}" for i in range(n)) + "]\n"
    block = f"block: Off\n{leaves}steps:\n" + "".join(f"  - remove: p{i}\n" for i in range(n))
    return {
        "machine.yaml": HEAD + many,
        "blocks/off.yaml": block,
        "jobs/job.yaml": job("  - do: off\n  - reverse: off\n" + PROVED),
    }


def branches(n: int) -> Texts:
    """One part, taken off and left off under every `otherwise`."""
    steps = ""
    for i in range(n):
        steps += f"  - check: thing {i}\n    limit: dry\n    otherwise:\n      - remove: p\n"
    return {"machine.yaml": HEAD + "parts: {p: {}}\n", "jobs/job.yaml": job(steps)}


def one_part(n: int) -> Texts:
    """One part that is there in each of many options."""
    options = "options:\n" + "".join(f"  o{i}: [without, with]\n" for i in range(n))
    steps = "".join(f"  - remove: p\n    when: {{o{i}: with}}\n" for i in range(n)) + "  - install: p\n"
    return {"machine.yaml": HEAD + options + "parts: {p: {}}\n", "jobs/job.yaml": job(steps + PROVED)}


def long_when(n: int) -> Texts:
    """A `when` with many cases."""
    options = "options:\n" + "".join(f"  o{i}: [without, with]\n" for i in range(n))
    cases = "\n".join(f"      - {{o{i}: with}}" for i in range(n))
    steps = f"  - remove: p\n    when:\n{cases}\n  - install: p\n    when:\n{cases}\n"
    return {"machine.yaml": HEAD + options + "parts: {p: {}}\n", "jobs/job.yaml": job(steps + PROVED)}


def fasteners(n: int) -> Texts:
    """Single fasteners out and in."""
    things = "parts: {cover: {}}\nfasteners:\n" + "".join(
        f'  f{i}: {{kind: bolt, thread: M6, class: "8.8", torque: 8 N·m, secures: cover}}\n' for i in range(n)
    )
    names = "[" + ", ".join(f"f{i}" for i in range(n)) + "]"
    steps = f"  - remove: {names}\n  - remove: cover\n  - install: cover\n  - install: {names}\n  - tighten: {names}\n"
    return {"machine.yaml": HEAD + things, "jobs/job.yaml": job(steps + PROVED)}


def unknown(n: int) -> Texts:
    """Names that the machine does not know."""
    parts = "parts:\n" + "".join(f"  part-number-{i}: {{}}\n" for i in range(n))
    steps = "".join(f"  - remove: a-certain-thing-{i}\n" for i in range(n))
    return {"machine.yaml": HEAD + parts, "jobs/job.yaml": job(steps)}


def options_200(n: int) -> Texts:
    """Options, a fifth of which meet on one part."""
    options = "options:\n" + "".join(f"  o{i}: [a, b, c]\n" for i in range(n))
    parts = "parts:\n  cover: {}\n" + "".join(f"  p{i}: {{when: {{o{i}: [a, b]}}}}\n" for i in range(n))
    off = "".join(f"  - remove: p{i}\n" for i in range(n))
    on = "".join(f"  - install: p{i}\n" for i in range(n))
    some = "".join(f"  - remove: cover\n    when: {{o{i}: a, o{i + 1}: b}}\n" for i in range(0, n // 5, 2))
    steps = off + some + on + "  - install: cover\n" + PROVED
    return {"machine.yaml": HEAD + options + parts, "jobs/job.yaml": job(steps)}


@dataclass(frozen=True)
class Row:
    """Guides of one kind."""

    make: Callable[[int], Texts]
    """Returns the files of a guide of a size."""
    sizes: tuple[int, ...]
    """The sizes that are measured; the last is as large as anybody would write, or larger."""
    finds: Mapping[str, int] = field(default_factory=dict)
    """What is found at the last size, and how often at most."""
    beyond: str = ""
    """Part of what is said when the last size is more than can be followed."""


ROWS = {
    "steps": Row(steps_2000, (1000, 2000, 4000)),
    "checks_back": Row(checks_back, (15, 30, 60)),
    "checks_to_start": Row(checks_to_start, (15, 30, 60)),
    "checks_left": Row(checks_left, (4, 6, 60), beyond="leads back in more ways than can be followed"),
    "checks_of_options": Row(checks_of_options, (10, 20, 40), {"left-off": 1}),
    "attached": Row(attached, (75, 150, 300), {"too-heavy": 1}),
    "stack": Row(stack, (40, 80, 160), {"odd-variant": 3}),
    "entangled": Row(entangled, (20, 40, 80), {"odd-variant": 1}),
    "met": Row(met, (20, 40, 80), {"not-there": 40}),
    "excluded": Row(excluded, (20, 40, 80)),
    "all_different": Row(all_different, (4, 6, 16), beyond="more ways than can be followed, so no job is proved"),
    "blocks": Row(blocks, (6, 12, 30), beyond="16,384 steps when its blocks are written out"),
    "chain": Row(chain, (25, 50, 99)),
    "undone": Row(undone, (500, 1000, 2000)),
    "branches": Row(branches, (80, 160, 320), {"left-off": 8, "not-there": 319}),
    "one_part": Row(one_part, (80, 160, 320), {"not-there": 320}),
    "long_when": Row(long_when, (200, 400, 800)),
    "fasteners": Row(fasteners, (1000, 2000, 4000), {"order-missing": 1}),
    "unknown": Row(unknown, (100, 200, 400), {"unknown-name": 400}),
    "options": Row(options_200, (50, 100, 200), {"not-there": 20}),
}
"""By name."""


def measure(row: str, size: int) -> None:
    """Check one guide in this process and print what it cost, after it was checked once."""
    from putback.guide.reading import read_guide
    from putback.ledger.opened import open_guide
    from putback.lint.run import result_of
    from putback.source.intake import Memory

    store = Memory({Path("/g", name): text for name, text in (COVER | ROWS[row].make(size)).items()})
    seconds = 0.0
    for _ in range(2):  # once, so that what is imported late is there
        start = time.process_time()
        result = result_of(open_guide(read_guide(Path("/g"), store=store)))
        seconds = time.process_time() - start
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    counts = Counter(finding.check for finding in result.findings)
    print(json.dumps({"seconds": round(seconds, 3), "mib": round(peak), "findings": counts}))


def table(rows: list[str]) -> None:
    """Print, for each row, the CPU seconds at each size, the growth at the last doubling, memory, and findings."""
    print("| input | sizes | CPU s | power | MiB | findings |\n| --- | --- | --- | --- | --- | --- |")
    for name in rows:
        row, answers = ROWS[name], []
        for size in row.sizes:
            done = subprocess.run(
                [sys.executable, __file__, name, str(size)], capture_output=True, text=True, timeout=120, check=True
            )
            answers.append(json.loads(done.stdout))
        seconds = [answer["seconds"] for answer in answers]
        power = math.log(seconds[-1] / seconds[-2]) / math.log(row.sizes[-1] / row.sizes[-2])
        found = ", ".join(f"{count} {check}" for check, count in answers[-1]["findings"].items())
        sizes, times = ", ".join(map(str, row.sizes)), ", ".join(f"{each:.2f}" for each in seconds)
        words = (row.make.__doc__ or "").rstrip(".")
        print(f"| {words} | {sizes} | {times} | {power:.1f} | {answers[-1]['mib']} | {found} |", flush=True)


if __name__ == "__main__":
    if len(sys.argv) == 3 and sys.argv[2].isdecimal():
        measure(sys.argv[1], int(sys.argv[2]))
    else:
        table(sys.argv[1:] or list(ROWS))
