"""Small repositories of guides, and random changes of them: of lines, files, folders and links; committed or not."""

from __future__ import annotations

import os
import random
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

MACHINES = [
    "machine: Pump\nparts: {lid: {}, seal: {replace: always}, guard: {}}\nfasteners:\n"
    "  screws: {name: screw, count: 4, thread: M5 x 0.8, torque: 4 N·m, class: 8.8, order: crosswise, secures: lid}\n"
    "  nuts: {name: nut, count: 2, drive: hex 10 mm, secures: guard}\n",
    "machine: Motor\noptions: {shaft: [long, short]}\nparts:\n  lid: {}\n  guard: {when: {shaft: long}}\nfasteners:\n"
    "  screws: {name: screw, count: 4, drive: hex 8 mm, secures: lid}\n  nuts: {count: 2, secures: guard}\n",
]
JOBS = [
    "job: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n",
    "job: Open\nsteps:\n  - do: off\n  - clean: lid\n  - install: lid\n  - install: screws\n  - tighten: screws\n",
    "job: Guard\nsteps:\n  - remove: nuts\n  - remove: guard\n  - install: guard\n  - install: nuts\n"
    "  - tighten: nuts\n    torque: 9 N·m\n",
    "job: Nuts\nsteps:\n  - loosen: nuts\n  - tighten: nuts\n",
    "job: Other nuts\nsteps:\n  - tighten: nuts\n    torque: 8 N·m\n",
    "job: Half\nends-with: [screws]\nsteps:\n  - remove: screws\n",
    "job: Other half\nafter: j5\nsteps:\n  - caution: hot\n  - install: screws\n  - tighten: screws\n",
    "job: With a tool\nsteps:\n  - tighten: screws\n    tools: [spanner]\n  - do: shared-off\n",
]
BLOCK = "block: Off\nends-with: [screws, lid]\nsteps:\n  - remove: screws\n  - remove: lid\n"
PAGE = "# Pump\n\n{job}`j0` {job}`j1` {thing}`lid`\n"
SIGNS = "dry:\n  sign: No water comes.\n  causes:\n    - cause: The lid leaks.\n      job: j0\n"
LIBRARY = {
    "hazards.yaml": "heat: {name: heat, signal-at-least: warning, verbs: [remove]}\n",
    "cautions.yaml": "hot: {signal: warning, hazard: a hot lid, consequence: It burns.,\n"
    "  avoid: [Wait.], covers: [heat]}\n",
    "tools.yaml": "spanner: {name: spanner}\n",
    "blocks/shared-off.yaml": "block: Shared\nends-with: [screws]\nsteps:\n  - remove: screws\n",
}
FOLDERS = ["pump", "motor", "east/pump", "east/deep/motor"]


def git(*words: str) -> str:
    """Run git in the current folder."""
    calm = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull}
    who = ("-c", "user.name=Somebody", "-c", "user.email=somebody@example.com", "-c", "init.defaultBranch=main")
    done = subprocess.run(
        ["git", *who, *words], env=os.environ | calm, capture_output=True, check=True, text=True, errors="replace"
    )
    return done.stdout


def write(name: str | Path, text: str) -> None:
    """Write a file, with the folders above it."""
    path = Path(name)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def make_guides(chance: random.Random) -> None:
    """Write guides into the current folder, with a library and sometimes with another one further down."""
    for folder in FOLDERS:
        write(f"{folder}/guide.yaml", "title: A guide\n")
        write(f"{folder}/machine.yaml", chance.choice(MACHINES))
        write(f"{folder}/index.md", PAGE)
        for number, job in enumerate(JOBS):
            if chance.random() < 0.6:
                write(f"{folder}/jobs/j{number}.yaml", job)
        write(f"{folder}/blocks/off.yaml", BLOCK)
        if chance.random() < 0.5:
            write(f"{folder}/symptoms.yaml", SIGNS)
    for top in ("", "east/"):
        if not top or chance.random() < 0.5:
            for name, text in LIBRARY.items():
                write(f"{top}shared/{name}", text)
    write("notes/read.txt", "Nothing of a guide.\n")


def files(*, folders: bool = False) -> list[Path]:
    """Return the files, or the folders, below the current one, links among them; nothing of git's own."""
    found = [path for path in Path().rglob("*") if ".git" not in path.parts]
    return sorted(path for path in found if (path.is_dir() and not path.is_symlink()) == folders)


def change_lines(chance: random.Random) -> str:
    """Delete a line of a file, double it, or put that of another file in its place."""
    path, other = (chance.choice([path for path in files() if path.is_file()]) for _ in range(2))
    lines = path.read_text("utf-8").splitlines(keepends=True) or ["\n"]
    at = chance.randrange(len(lines))
    strange = chance.choice(other.read_text("utf-8").splitlines(keepends=True) or ["\n"])
    lines[at : at + 1] = chance.choice([[], [lines[at], lines[at]], [strange]])
    path.write_text("".join(lines), encoding="utf-8")
    return f"line {at + 1} of {path}"


def remove(chance: random.Random) -> str:
    """Delete a file."""
    path = chance.choice(files())
    path.unlink()
    return f"no {path}"


def rename(chance: random.Random) -> str:
    """Give a file or a folder another name, or the name of another file."""
    path = chance.choice(files(folders=chance.random() < 0.3))
    name = chance.choice([f"{path.stem}-b{path.suffix}", chance.choice(files()).name, "guide.yaml", "shared"])
    place = chance.choice([path.parent, path.parent.parent]) / name
    if os.path.lexists(place) or path == Path():
        return "nothing"
    path.rename(place)
    return f"{path} is {place}"


def copy(chance: random.Random) -> str:
    """Put the contents of one file in the place of another, or beside it under another name."""
    path, other = chance.choice(files()), chance.choice(files())
    place = chance.choice([path, path.with_name(other.name), path.with_name(f"new{path.suffix}")])
    if not other.is_file() or place.is_dir():
        return "nothing"
    text = other.read_bytes()
    place.unlink(missing_ok=True)
    place.write_bytes(text)
    return f"{other} in {place}"


def link(chance: random.Random) -> str:
    """Put a link to a file or folder in the place of another one."""
    whole = chance.random() < 0.4
    path, other = chance.choice(files(folders=whole)), chance.choice(files(folders=whole))
    if path == other or other in path.parents or path in other.parents:
        return "nothing"
    if whole:
        shutil.rmtree(path)
    else:
        path.unlink()
    path.symlink_to(os.path.relpath(other, path.parent))
    return f"{path} leads to {other}"


WAYS: list[Callable[[random.Random], str]] = [
    change_lines, change_lines, change_lines, change_lines, remove, rename, copy, copy, link,
]  # fmt: skip


def change(chance: random.Random, most: int = 3) -> list[str]:
    """Change something, commit it or not, and return what was done."""
    done = []
    for _ in range(chance.randint(1, most)):
        done.append(chance.choice(WAYS)(chance))
        match chance.randrange(4):
            case 0:
                git("add", "--all")
            case 1:
                git("add", "--all")
                git("commit", "--quiet", "--allow-empty", "--message", "A change")
    return done
