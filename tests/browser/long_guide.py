"""A guide with more of everything than a page was drawn for: 120 steps, branches of branches, words without a break."""

from __future__ import annotations

from pathlib import Path

STEPS = 120
"""Steps of the job, not counting those of branches."""

LONGEST_WORD = "Steuerventilsitzringausdrehvorrichtungshalteschraube"
"""A word as other languages make them."""

LONGEST_NUMBER = "LG" + "0123456789" * 4
"""A part number without a place to break."""

COVER = """\
title: Long haul
authors: [The testers]
read-first: The machine is invented.
"""

MACHINE = f"""\
machine: Long haul
options:
  reach: [ordinary, extraordinary]
parts:
  body: {{}}
  hood: {{name: hood, number: {LONGEST_NUMBER}, kit: everything-{LONGEST_NUMBER}, mass: 12 kg}}
  ring: {{name: {LONGEST_WORD}, number: LG-1, replace: always, note: "Part of {LONGEST_NUMBER}."}}
  collar: {{name: collar behind the {LONGEST_WORD}, number: LG-2, replace: always, when: {{reach: extraordinary}}}}
fasteners:
  hood-bolts:
    name: bolt of the {LONGEST_WORD}
    count: 24
    thread: M10 x 1.5
    class: "8.8"
    drive: hex 17 mm
    secures: hood
    to: body
    torque: 45 N·m
    order: crosswise
stacks:
  - [hood, ring]
fluids:
  oil: {{name: {LONGEST_WORD}, grade: {LONGEST_NUMBER}, volume: 3 l}}
"""

INDEX = """\
# Long haul

```{toctree}
machine
jobs/haul
prose
```

```{putback-jobs}
```
"""

PROSE = f"""\
# {LONGEST_WORD}

{LONGEST_NUMBER}{LONGEST_NUMBER}

## {LONGEST_WORD} and `{LONGEST_NUMBER}`

- {LONGEST_NUMBER}{LONGEST_NUMBER}

| {LONGEST_WORD} | One | Two |
| --- | --- | --- |
| {LONGEST_NUMBER} | {LONGEST_NUMBER} | {LONGEST_NUMBER} |

```{{putback-parts}}
```

```{{putback-torques}}
```

```{{putback-fluids}}
```

{LONGEST_WORD}
: {LONGEST_NUMBER}{LONGEST_NUMBER}
"""


def write_long_guide(place: Path) -> Path:
    """Write the guide below `place`, with a library beside it that has one safety message; return its folder."""
    guide = place / "long-haul"
    files = {
        "guide.yaml": COVER,
        "machine.yaml": MACHINE,
        "index.md": INDEX,
        "prose.md": PROSE,
        "jobs/haul.yaml": job(),
        "../shared/hazards.yaml": "weight: {name: a heavy part, signal-at-least: warning}\n",
        "../shared/cautions.yaml": (
            "crushing:\n"
            "  signal: warning\n"
            f"  hazard: A {LONGEST_WORD} drops.\n"
            f"  consequence: It crushes a hand that holds {LONGEST_NUMBER}.\n"
            f"  avoid: [Keep hands clear of {LONGEST_NUMBER}., Support it.]\n"
            "  covers: [weight]\n"
        ),
        "../shared/tools.yaml": f"puller: {{name: puller of the {LONGEST_WORD}}}\n",
    }
    for name, text in files.items():
        path = guide / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return guide


def job() -> str:
    """Return the job. Steps 26 and 101 have branches of branches, 101 to its 23rd step and three levels down."""
    lines = [
        f"job: Haul the {LONGEST_WORD}",
        f"purpose: So that {LONGEST_NUMBER} holds.",
        "time: 90 min",
        "sections:",
    ]
    for number in range(1, STEPS + 1):
        if number % 40 == 1:
            lines += [f"  - title: Part {number // 40 + 1} of the {LONGEST_WORD}", "    steps:"]
        if number in (5, 99, 111):
            lines += ["      - caution: crushing"]
        lines += step(number)
    return "\n".join(lines) + "\n"


def step(number: int) -> list[str]:
    """Return the lines of one step."""
    match number:
        case 1:
            return ["      - remove: hood-bolts"]
        case 2:
            return ["      - remove: hood", "        tool: puller", f"        note: It is {LONGEST_NUMBER}."]
        case 3:
            return ["      - remove: ring"]
        case 118:
            return ["      - install: ring", "        new: true"]
        case 119:
            return ["      - install: hood"]
        case 120:
            return ["      - install: hood-bolts", "      - tighten: hood-bolts"]
        case 26:
            return branch(6, "gap", ["Look.", "Feel.", branch(10, "play", [f"Turn {LONGEST_NUMBER}.", "Turn."])])
        case 101:
            inner = branch(
                10, "play", ["Turn.", branch(14, "noise", ["Listen.", "Listen again.", "Stop for a while."])]
            )
            return branch(6, "gap", [*(f"Do {at} of the {LONGEST_WORD}." for at in range(1, 23)), inner])
        case _:
            words = f"Wipe the {LONGEST_WORD} with a rag." if number % 10 == 0 else "Wipe it."
            return [f"      - note: Number {number} is a remark."] * (number % 25 == 0) + check(6, words)


def check(indent: int, words: str) -> list[str]:
    """Return a step that has no branch."""
    return [f"{' ' * indent}- inspect: ring", f"{' ' * indent}  for: a scratch", f"{' ' * indent}  note: {words}"]


def branch(indent: int, what: str, inner: list[str | list[str]]) -> list[str]:
    """Return a check with what to do out of limit."""
    space = " " * indent
    lines = [f"{space}- check: the {what}", f"{space}  limit: none", f"{space}  otherwise:"]
    for words in inner:
        lines += check(indent + 4, words) if isinstance(words, str) else words
    return lines
