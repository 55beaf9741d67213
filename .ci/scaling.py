"""Guides of any size, one kind a row, to see how the cost of checking grows.

`python .ci/scaling.py` prints the table of docs/speed.md; `python .ci/scaling.py ROW SIZE` checks one guide and prints
its CPU time, peak memory and findings.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

HEAD = "machine: Bench machine (invented)\n"
STOP = "otherwise:\n      - stop: Do it again.\n"
PROVED = f"  - check: the whole\n    limit: dry, runs\n    {STOP}"
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
    steps = "  - inspect: p\n"
    for i in range(n):
        branch = f"[{{clean: p}}, {{again: c{i}}}]"
        steps += f"  - check: thing {i}\n    name: c{i}\n    limit: dry\n    otherwise: {branch}\n"
    return {"machine.yaml": HEAD + "parts: {p: {}}\n", "jobs/job.yaml": job(steps)}


def checks_to_start(n: int) -> Texts:
    """Checks whose `otherwise` sets a control of its own and goes back to the start."""
    controls = "controls:\n" + "".join(f"  v{i}: {{positions: [shut, open], rest: shut}}\n" for i in range(n))
    steps = "  - inspect: p\n    name: start\n" + "".join(f"  - set: v{i}\n    to: shut\n" for i in range(n))
    for i in range(n):
        steps += f"  - check: thing {i}\n    limit: dry\n    otherwise: [{{set: v{i}, to: open}}, {{again: start}}]\n"
    return {"machine.yaml": HEAD + controls + "parts: {p: {}}\n", "jobs/job.yaml": job(steps)}


def checks_left(n: int) -> Texts:
    """The same, but what the branch sets stays set: every combination is a machine of its own."""
    controls = "controls:\n" + "".join(f"  v{i}: {{positions: [shut, open], rest: shut}}\n" for i in range(n))
    steps = "  - inspect: p\n    name: start\n"
    for i in range(n):
        steps += f"  - check: thing {i}\n    limit: dry\n    otherwise: [{{set: v{i}, to: open}}, {{again: start}}]\n"
    steps += "".join(f"  - set: v{i}\n    to: shut\n" for i in range(n))
    return {"machine.yaml": HEAD + controls + "parts: {p: {}}\n", "jobs/job.yaml": job(steps)}


def attached(n: int) -> Texts:
    """Parts with a mass that hang on one part, each with an option of its own."""
    options = "options:\n" + "".join(f"  o{i}: [without, with]\n" for i in range(n))
    parts = "parts:\n  frame: {}\n  engine: {mass: 5 kg}\n" + "".join(
        f"  p{i}: {{mass: 1 kg, when: {{o{i}: with}}}}\n" for i in range(n)
    )
    fasteners = "fasteners:\n  feet: {kind: bolt, torque: 20 N·m, holds: engine, to: frame}\n" + "".join(
        f"  f{i}: {{kind: bolt, torque: 20 N·m, holds: p{i}, to: engine, when: {{o{i}: with}}}}\n" for i in range(n)
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
        f"  f{i}: {{kind: pin, holds: cover, when: {pair}}}\n" for i, pair in enumerate(pairs)
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
    """A block of many steps, done and undone."""
    many = "parts:\n" + "".join(f"  p{i}: {{}}\n" for i in range(n))
    leaves = "leaves: [" + ", ".join(f"p{i}" for i in range(n)) + "]\n"
    block = f"block: Off\n{leaves}steps:\n" + "".join(f"  - remove: p{i}\n" for i in range(n))
    return {
        "machine.yaml": HEAD + many,
        "blocks/off.yaml": block,
        "jobs/job.yaml": job("  - do: off\n  - undo: off\n" + PROVED),
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
        f"  f{i}: {{kind: bolt, thread: M6, torque: 8 N·m, holds: cover}}\n" for i in range(n)
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


ROWS: dict[str, tuple[Callable[[int], Texts], tuple[int, ...]]] = {
    "steps": (steps_2000, (1000, 2000, 4000)),
    "checks_back": (checks_back, (15, 30, 60)),
    "checks_to_start": (checks_to_start, (4, 8, 16)),
    "checks_left": (checks_left, (4, 8, 16, 60)),
    "attached": (attached, (75, 150, 300)),
    "stack": (stack, (40, 80, 160)),
    "entangled": (entangled, (20, 40, 80)),
    "met": (met, (20, 40, 80)),
    "excluded": (excluded, (20, 40, 80)),
    "blocks": (blocks, (6, 12, 18, 30)),
    "chain": (chain, (30, 60, 90)),
    "undone": (undone, (500, 1000, 2000)),
    "branches": (branches, (80, 160, 320)),
    "one_part": (one_part, (80, 160, 320)),
    "long_when": (long_when, (200, 400, 800)),
    "fasteners": (fasteners, (1000, 2000, 4000)),
    "unknown": (unknown, (100, 200, 400)),
    "options": (options_200, (50, 100, 200)),
}


def measure(row: str, size: int) -> None:
    """Check one guide in this process and print what it cost."""
    from putback.lint import check_guide

    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder, "guide")
        (root / "jobs").mkdir(parents=True)
        (root / "blocks").mkdir()
        (root / "guide.yaml").write_text("title: Scaling\n", encoding="utf-8")
        for name, text in ROWS[row][0](size).items():
            (root / name).write_text(text, encoding="utf-8")
        check_guide(root)  # once, so that what is imported late is there
        start = time.process_time()
        _, findings, steps = check_guide(root)
        seconds = time.process_time() - start
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    counts = Counter(finding.check for finding in findings)
    print(json.dumps({"seconds": round(seconds, 3), "mib": round(peak), "steps": steps, "findings": counts}))


def main() -> None:
    """Print the whole table, one row, or one guide of it."""
    if len(sys.argv) == 3:
        return measure(sys.argv[1], int(sys.argv[2]))
    for row, (_, sizes) in ROWS.items():
        if len(sys.argv) == 2 and sys.argv[1] != row:
            continue
        for size in sizes:
            try:
                done = subprocess.run(
                    [sys.executable, __file__, row, str(size)], capture_output=True, text=True, timeout=60, check=False
                )
                print(row, size, done.stdout.strip() or done.stderr.strip()[-300:], flush=True)
            except subprocess.TimeoutExpired:
                print(row, size, "over 60 s", flush=True)
                break
    return None


if __name__ == "__main__":
    main()
