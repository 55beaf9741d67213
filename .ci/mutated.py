"""Says of changes of the checks which example sees each: reads JSON lines with a path and a text, answers in lines.

Every example is opened once, and each change is tried in a process of its own, forked from there: a second instead of a
minute. Those of the changed check come first. One is looked at as a whole only when the check that was changed, or one
that takes something from it, finds something else in it than before.
"""

from __future__ import annotations

import gc
import json
import os
import re
import resource
import shutil
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from putback import checks
from putback.checks import own_checks
from putback.guide.paths import is_guide
from putback.lint.run import findings_of, open_guide, read_guide
from putback.testing.examples import BENCH, LIBRARY, Example, besides_of, marks_of, parse_example

CASES = Path("tests/cases")
NOBODY = "nobody"
"""The answer when no example sees a change."""

SLOWEST = 240
"""Seconds of work after which a change goes round in circles."""


class Case:
    """An example of a check, or a guide of which the tests know every finding, opened."""

    def __init__(self, check: str, name: str, folder: Path, example: Example) -> None:
        self.check, self.name, self.example = check, name, example
        self.opened = open_guide(read_guide(folder, {}))
        self.before = self.now()

    def now(self) -> list[str]:
        """Return what its marks are about: all findings, and what they say besides where the example asks for it."""
        try:
            findings = findings_of(self.opened)[0]
        except Exception as error:
            return [repr(error)]
        kinds, files = {mark.message[:5] for mark in self.example.besides}, tuple(self.example.files)
        asked = [each for each in besides_of(findings) if each.message[:5] in kinds and each.path.endswith(files)]
        return sorted(map(repr, [*marks_of(findings), *asked]))

    @cache  # noqa: B019  # as long as the program
    def found(self, check: str) -> list[str]:
        """Return what one check finds, before anything of it is left out."""
        return self.found_now(check)

    def found_now(self, check: str) -> list[str]:
        """Return the same, by the program as it is now."""
        try:
            return [repr(fault) for fault in own_checks()[check].faults(self.opened)]
        except Exception as error:
            return [repr(error)]


def cases(top: Path) -> Iterator[Case]:
    """Yield every example, written below a folder, then the guides."""
    for name, check in own_checks().items():
        texts = {"FAILS": check.module.FAILS, "PASSES": check.module.PASSES}
        texts |= {path.stem: path.read_text(encoding="utf-8") for path in sorted((CASES / name).glob("*.txt"))}
        for each, text in texts.items():
            example = parse_example(text)
            yield Case(name, f"{name}/{each}", written(example, top / name / each), example)
    for folder in sorted([*Path("procedures").iterdir(), *Path("tests/real").iterdir()]):
        if is_guide(folder):
            yield Case("", str(folder), folder, Example())


def written(example: Example, folder: Path) -> Path:
    """Write an example on the bench, with a library of its own; return the guide's folder."""
    bench = folder / "bench"
    shutil.copytree(BENCH, bench)
    shutil.copytree(LIBRARY, bench, dirs_exist_ok=True)
    (folder / "shared").mkdir()
    (folder / "shared" / "tools.yaml").write_text("{}\n", encoding="utf-8")
    for path in example.absent:
        (bench / path).unlink()
    for path, words in example.files.items():
        target = (bench / path).resolve()
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(words, encoding="utf-8")
    return bench


@cache
def users(stem: str) -> list[str]:
    """Return a check, by its module, and those that take something from it."""
    taken = {
        path.stem: set(re.findall(r"from putback\.checks\.(\w+) import", path.read_text(encoding="utf-8")))
        for path in Path(checks.__file__ or "").parent.glob("*.py")
    }
    found, before = {stem}, set[str]()
    while found != before:
        before, found = found, found | {each for each, names in taken.items() if names & found}
    return [name for name in own_checks() if name.replace("-", "_") in found]


def put_in(path: str, text: str) -> None:
    """Run a changed module in place of the old one, wherever something of it was imported."""
    name = path.removeprefix("src/").removesuffix(".py").replace("/", ".").removesuffix(".__init__")
    module = sys.modules[name]
    old = dict(vars(module))
    exec(compile(text, path, "exec"), vars(module))
    new = {id(each): vars(module)[key] for key, each in old.items() if getattr(each, "__module__", None) == name}
    for other in [each for key, each in sys.modules.items() if key.startswith("putback")]:
        for key, each in list(vars(other).items()):
            if other is not module and id(each) in new:
                setattr(other, key, new[id(each)])


def seen(path: str, text: str, opened: list[Case]) -> str:
    """Return the first example that sees a change, or that none does."""
    stem = Path(path).stem
    of_all = "/engine/" in path or stem == "__init__"
    try:
        put_in(path, text)
    except Exception:
        return "cannot be loaded"
    for case in sorted(opened, key=lambda case: case.check.replace("-", "_") != stem):
        changed = of_all or any(case.found(name) != case.found_now(name) for name in users(stem))
        if changed and case.now() != case.before:
            return case.name
    return NOBODY


def main() -> None:
    """Answer each line."""
    top = Path(mkdtemp())
    opened = list(cases(top))
    gc.freeze()
    for line in sys.stdin:
        asked = json.loads(line)
        for case in opened if "/engine/" not in asked["path"] else ():
            for name in users(Path(asked["path"]).stem):
                case.found(name)
        inside, outside = os.pipe()
        child = os.fork()
        if not child:
            resource.setrlimit(resource.RLIMIT_CPU, (SLOWEST, SLOWEST + 10))
            os.write(outside, seen(asked["path"], asked["text"], opened).encode())
            os._exit(0)
        os.close(outside)
        with os.fdopen(inside, encoding="utf-8") as answer:
            print(answer.readline().strip("\n") or "no end", flush=True)
        os.waitpid(child, 0)
    shutil.rmtree(top)


if __name__ == "__main__":
    main()
