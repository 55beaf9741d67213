"""Changes the ledger, the variants and the checks in one place at a time, and asks the tests whether they see it.

    PUTBACK_MUTANTS=60 PUTBACK_MUTANTS_SEED=1 PUTBACK_MUTANTS_IN=ledger/passes.py .ci/run mutants

The changes are those of Cosmic Ray, and one of ours: operations on sets of variants. Data, such as the examples of
checks, and annotations are left alone. The tests run on a copy of the tree; `mutated.py` asks all examples of the
checks at once about a change of a check. `tests/mutants.tsv` lists changes that do
nothing, with the reason; all others that no test sees are printed, and the exit code is 1.
"""

from __future__ import annotations

import ast
import difflib
import json
import os
import random
import resource
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.operators.operator import Operator
from cosmic_ray.plugins import get_operator, operator_names

ROOT = Path(__file__).resolve().parents[1]
COPY = ROOT / "build" / "ci" / "mutants"
PACKAGE = "src/putback"
FOLDERS = ("ledger", "variants", "checks")
SLOWEST = 240
"""Seconds of work after which the tests of one mutant are ended: it goes round in circles."""

TURNED = {
    "Eq_NotEq", "NotEq_Eq", "Lt_LtE", "Lt_GtE", "LtE_Lt", "LtE_Gt", "Gt_GtE", "Gt_LtE", "GtE_Gt", "GtE_Lt",
    "Is_IsNot", "IsNot_Is", "Add_Sub", "Sub_Add", "BitAnd_BitOr", "Mul_Div", "Div_Mul",
}  # fmt: skip
"""Operators, each with what takes its place; `|` mostly joins types here, and is left alone."""

FAMILIES = ("AddNot", "Replace", "Number", "ZeroIteration")
"""How the names of Cosmic Ray's operators begin that are used; of those for two operators, the turned ones."""


SWAPS = {"either": "both", "both": "either", "without": "both"}
"""Operations on sets of variants, each with what takes its place."""


class SwapSets(Operator):
    """What both have for what one of them has, and what one has and the other has not for what both have."""

    def mutation_positions(self, node: Any) -> Iterator[Any]:
        """Yield each call of an operation on sets."""
        following = node.get_next_leaf() if node.type == "name" else None
        if following is not None and following.value == "(" and node.value in SWAPS:
            yield node.start_pos, node.end_pos

    def mutate(self, node: Any, index: int) -> Any:
        """Write the other operation."""
        node.value = SWAPS[node.value]
        return node

    @classmethod
    def examples(cls) -> tuple[()]:
        """None: nobody asks for them."""
        return ()


class Mutant(NamedTuple):
    """A module with one change."""

    path: str
    """The module, from the top of the tree."""
    line: int
    """Where it was changed."""
    was: str
    """The lines as they are written."""
    now: str
    """The same, changed."""
    text: str
    """The whole module, changed."""


def operators() -> list[Operator]:
    """Return the kinds of changes."""
    names = [name for name in operator_names() if name.partition("/")[2].startswith(FAMILIES)]
    plain = [name for name in names if "Operator_" not in name or name.partition("_")[2] in TURNED or "Unary" in name]
    return [*(get_operator(name)() for name in sorted(plain)), SwapSets()]


def annotations(text: str) -> set[int]:
    """Return the lines of a module on which annotations, imports, or data of the module are: nothing runs there."""
    lines: set[int] = set()
    tree = ast.parse(text)
    still: list[ast.AST] = [node for node in tree.body if not isinstance(node, ast.FunctionDef | ast.ClassDef)]
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            inner = [*node.args.args, *node.args.kwonlyargs, node.returns, *node.decorator_list]
            still += [each for each in inner if each is not None]
        elif isinstance(node, ast.AnnAssign):
            still.append(node.annotation)
    for node in still:
        lines.update(range(getattr(node, "lineno", 1), (getattr(node, "end_lineno", None) or 1) + 1))
    return lines


def mutants(path: Path) -> Iterator[tuple[Path, Operator, int]]:
    """Yield where one module can be changed, and how."""
    text = path.read_text(encoding="utf-8")
    skipped, tree = annotations(text), get_ast(text)
    for operator in operators():
        places = [place for node in ast_nodes(tree) for place in operator.mutation_positions(node)]
        for number, (start, _) in enumerate(places):
            if start[0] not in skipped:
                yield path, operator, number


def _meant(text: str) -> str:
    return ast.dump(ast.parse(text.replace("strict=False", "strict=True")))


def made(path: Path, operator: Operator, number: int) -> Mutant | None:
    """Return a module with one change; None when it then says the same, or is no Python."""
    text = path.read_text(encoding="utf-8")
    changed = mutate_code(text, operator, number)
    try:
        # Lists of one length are joined strictly, so that a fault of the program cannot be overlooked.
        if changed is None or _meant(changed) == _meant(text):
            return None
    except SyntaxError:
        return None
    before, after = text.splitlines(), changed.splitlines()
    blocks = difflib.SequenceMatcher(None, before, after, autojunk=False).get_opcodes()
    _, first, last, other, end = next(block for block in blocks if block[0] != "equal")
    was, now = (" ".join(" ".join(lines).split()) for lines in (before[first:last], after[other:end]))
    return Mutant(str(path.relative_to(ROOT)), first + 1, was, now, changed)


def sample(many: int, seed: int, only: str) -> Iterator[Mutant]:
    """Yield mutants by chance, the same for the same seed."""
    tops = [ROOT / PACKAGE / name for name in ([only] if only else FOLDERS)]
    paths = [path for top in tops for path in ([top] if top.is_file() else sorted(top.rglob("*.py")))]
    found = [each for path in paths if "bench" not in path.parts for each in mutants(path)]
    print(f"{len(found)} changes can be made; {many} are tried, with seed {seed}", flush=True)
    random.Random(seed).shuffle(found)
    yield from [mutant for each in found[: 2 * many] if (mutant := made(*each))][:many]


def rounds(path: str) -> Iterator[list[str]]:
    """Yield the tests that could see a change, the nearest first."""
    folder, name = path.removeprefix(f"{PACKAGE}/").split("/")[0], Path(path).stem
    if folder == "checks":
        # Its examples were asked before, all at once.
        nearest = [each for each in _tests() if f"checks.{name} " in each.read_text(encoding="utf-8")]
        yield from [[str(each.relative_to(ROOT))] for each in nearest]
        if "/engine/" in path or name == "__init__":
            yield ["tests/test_checks.py", "tests/brought", "-k", "not examples_of and not case_gives"]
            yield ["tests/lint"]
        else:
            yield ["tests/test_checks.py", "tests/hints", "-k", name]
        return
    yield from [[str(each.relative_to(ROOT))] for each in (ROOT / "tests" / folder).glob(f"test_{name}.py")]
    yield ["tests/ledger", "tests/variants"]
    yield ["tests/test_laws.py"]
    yield ["tests/test_checks.py"]


@cache
def _tests() -> list[Path]:
    return sorted((ROOT / "tests").rglob("test_*.py"))


class Examples:
    """The examples of the checks, opened in a program of its own that is asked about changes of the checks."""

    def __init__(self) -> None:
        self.program: subprocess.Popen[str] | None = None

    def ask(self, mutant: Mutant) -> str | None:
        """Return which example sees a change; None when none does."""
        if self.program is None:
            command = [os.environ["PUTBACK_PYTHON"], str(ROOT / ".ci" / "mutated.py")]
            self.program = subprocess.Popen(
                command, cwd=COPY, env=_environment(), text=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE
            )
        assert self.program.stdin is not None
        assert self.program.stdout is not None
        self.program.stdin.write(json.dumps({"path": mutant.path, "text": mutant.text}) + "\n")
        self.program.stdin.flush()
        answer = self.program.stdout.readline().strip()
        if not answer:
            raise ChildProcessError("the examples of the checks cannot be opened")
        return None if answer == "nobody" else answer


def _environment() -> dict[str, str]:
    path = os.pathsep.join([str(COPY / "src"), str(COPY)])
    return {**os.environ, "PYTHONPATH": path, "PUTBACK_LAWS": "60", "PYTHONDONTWRITEBYTECODE": "1"}


def _limited() -> None:
    resource.setrlimit(resource.RLIMIT_CPU, (SLOWEST, SLOWEST + 10))


def killer(mutant: Mutant, examples: Examples) -> str | None:
    """Return what sees a change; None when nothing does."""
    if mutant.path.startswith(f"{PACKAGE}/checks/") and (seen := examples.ask(mutant)):
        return seen
    target = COPY / mutant.path
    kept = target.read_bytes()
    target.write_text(mutant.text, encoding="utf-8")
    try:
        for tests in rounds(mutant.path):
            command = [os.environ["PUTBACK_PYTHON"], "-m", "pytest", "-qx", "-p", "no:cacheprovider", *tests]
            ran = subprocess.run(
                command, cwd=COPY, env=_environment(), capture_output=True, text=True, check=False, preexec_fn=_limited
            )
            if ran.returncode < 0:
                return "no end"
            if ran.returncode not in (0, 5):
                said = [line for line in ran.stdout.splitlines() if line.startswith(("FAILED", "ERROR"))]
                return said[0].partition(" - ")[0] if said else "cannot be loaded"
    finally:
        target.write_bytes(kept)
    return None


def main() -> None:
    """Try the mutants that the environment asks for."""
    lines = (ROOT / "tests" / "mutants.tsv").read_text(encoding="utf-8").splitlines()
    explained = {tuple(line.split("\t")[:3]) for line in lines if line and not line.startswith("#")}
    shutil.rmtree(COPY, ignore_errors=True)
    kept_out = shutil.ignore_patterns(".*", "build", "__pycache__")
    shutil.copytree(ROOT, COPY, ignore=kept_out)
    many, seed = (int(os.environ.get(f"PUTBACK_MUTANTS{name}", "60" if not name else "1")) for name in ("", "_SEED"))
    examples, counts = Examples(), {"killed": 0, "explained": 0, "alive": 0}
    for mutant in sample(many, seed, os.environ.get("PUTBACK_MUTANTS_IN", "")):
        began = time.monotonic()
        known = (mutant.path.removeprefix(f"{PACKAGE}/"), mutant.was, mutant.now) in explained
        seen = None if known else killer(mutant, examples)
        kind = "explained" if known else "killed" if seen else "alive"
        counts[kind] += 1
        print(f"{kind:9} {mutant.path}:{mutant.line}: {mutant.was}  ->  {mutant.now}", flush=True)
        print(f"          {time.monotonic() - began:.0f} s  {seen or ''}", flush=True)
    print(", ".join(f"{many} {kind}" for kind, many in counts.items()))
    sys.exit(1 if counts["alive"] else 0)


if __name__ == "__main__":
    main()
