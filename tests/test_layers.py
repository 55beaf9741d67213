"""Data flows one way: each module imports only from those before it, and the core knows nothing of Sphinx."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from collections.abc import Collection, Iterator
from pathlib import Path

import networkx as nx
import pytest

import putback
from tests.guard import assert_none

SRC = Path(putback.__file__).parent

ORDER = [
    "source", "units", "joints", "lifting", "trade", "telling", "model", "pictures", "variants", "guide", "prose",
    "translation", "ledger", "mending", "sheet", "checks", "words", "drawings", "lint", "testing", "placing", "starter",
    "typstpdf", "sphinxext", "cli",
]  # fmt: skip
"""Lowest first."""

OUTSIDE_ONLY_IN = {
    "sphinx": {"sphinxext", "typstpdf"},
    "docutils": {"sphinxext", "typstpdf"},
    "myst_parser": {"sphinxext"},
    "markdown_it": {"prose"},
    "mdit_py_plugins": {"prose"},
    "typst": {"typstpdf"},
    "PIL": {"drawings", "pictures"},
    "segno": {"drawings"},
    "babel": {"telling", "translation"},
    "jsonschema": {"source"},
    "click": {"cli"},
}
"""Libraries that only some modules may import."""


def imports_of(text: str) -> Iterator[str]:
    """Yield every module that a text imports, also late in a function or only for types."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports inside the package are absolute"
            yield node.module or ""
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def layer_of(path: Path) -> str:
    return path.relative_to(SRC).parts[0].removesuffix(".py")


def upward(layer: str, text: str) -> list[str]:
    """Return the imports of a layer's module that lead to a later layer."""
    found = []
    for module in imports_of(text):
        parts = module.split(".")
        known = parts[0] == "putback" and len(parts) > 1 and parts[1] in ORDER
        if known and ORDER.index(parts[1]) > ORDER.index(layer):
            found.append(module)
    return found


def strange(layer: str, text: str) -> list[str]:
    """Return the libraries that a layer's module imports and must not."""
    roots = {module.split(".")[0] for module in imports_of(text)}
    return sorted(root for root in roots if root in OUTSIDE_ONLY_IN and layer not in OUTSIDE_ONLY_IN[root])


MODULES = [path for path in sorted(SRC.rglob("*.py")) if path != SRC / "__init__.py"]


def test_every_module_has_its_place_in_the_order() -> None:
    unplaced = sorted({layer_of(path) for path in MODULES} - set(ORDER))
    assert_none(unplaced, "put these folders into ORDER of this file, and into the table of DEVELOPERS.md")


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(SRC).as_posix())
def test_a_module_imports_only_what_comes_before_it(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    layer = layer_of(path)
    lower = "a module imports only from its own folder and those before it in ORDER; pass in what it needs, or move it"
    assert_none(upward(layer, text), f"'{layer}' comes before these ({lower})")
    assert_none(strange(layer, text), f"'{layer}' may not use these libraries: see OUTSIDE_ONLY_IN")


def test_what_prints_knows_of_nothing_but_pictures() -> None:
    """Anything of a job comes to the builder of the PDF in a table, from `sphinxext.paper`."""
    known = set()
    for path in (SRC / "typstpdf").glob("*.py"):
        known |= {".".join(name.split(".")[:2]) for name in imports_of(path.read_text("utf-8")) if "putback" in name}
    assert known == {"putback.typstpdf", "putback.pictures"}


def test_an_import_upwards_is_seen() -> None:
    late = "def f():\n    from putback.lint import run\n"
    assert upward("ledger", late) == ["putback.lint", "putback.lint.run"]
    assert upward("cli", late) == []
    assert upward("source", "from putback import model\n") == ["putback.model"]
    assert strange("lint", "import sphinx.util\n") == ["sphinx"]
    assert strange("sphinxext", "import sphinx.util\n") == []


def named(path: Path) -> str:
    """Return the name of the module in a file."""
    return ".".join(("putback", *path.relative_to(SRC).with_suffix("").parts)).removesuffix(".__init__")


def known_imports(text: str, known: Collection[str]) -> Iterator[str]:
    """Yield the known modules that a text imports. Of `from a import b` it is `a.b`, or `a` where `b` is no module."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name in known)
        elif isinstance(node, ast.ImportFrom):
            module = node.module or ""
            found = (f"{module}.{alias.name}" for alias in node.names)
            yield from (name if name in known else module for name in found if module in known)


def in_circles(texts: dict[str, str]) -> set[str]:
    """Return the modules, of those with these texts, that lead to themselves; imports for types only count as well."""
    graph: nx.DiGraph[str] = nx.DiGraph()
    for name, text in texts.items():
        graph.add_edges_from((name, module) for module in known_imports(text, texts))
    knots = [knot for knot in nx.strongly_connected_components(graph) if len(knot) > 1]
    return {module for knot in knots for module in knot} | {name for name in graph if graph.has_edge(name, name)}


def test_no_module_leads_to_itself() -> None:
    texts = {named(path): path.read_text(encoding="utf-8") for path in SRC.rglob("*.py")}
    assert_none(sorted(in_circles(texts)), "these modules import each other in a circle: move what they share down")


def test_a_circle_is_seen() -> None:
    late = "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from p.b import B\n"
    texts = {"p": "from p.a import A\n", "p.a": late, "p.b": "def f():\n    from p import c\n", "p.c": "import p.a\n"}
    assert in_circles(texts) == {"p.a", "p.b", "p.c"}
    assert in_circles(texts | {"p.c": "from p.d import d\n", "p.d": ""}) == set()
    assert in_circles({"p": "", "p.a": "from p import thing\n"}) == set()
    both = "from p import thing\nfrom p.b import other\n"
    assert in_circles({"p": "from p.a import A\n", "p.a": both, "p.b": ""}) == {"p", "p.a"}
    assert in_circles({"p": "from p.a import A\n", "p.a": "from p import thing\n"}) == {"p", "p.a"}


TREES = ("putback.source.load", "putback.source.tree")
OTHER_YAML = {
    "putback.sphinxext.closed.tree": "the head of a Markdown page is YAML, and no file of a guide",
    "putback.lint.baseline_file": "a list of known findings is YAML, and no file of a guide",
}


def test_only_what_builds_records_looks_into_the_yaml_of_a_guide() -> None:
    low = ORDER[: ORDER.index("guide") + 1]
    above = {named(path): path for path in MODULES if layer_of(path) not in low}
    looking = {name for name, path in above.items() if {*imports_of(path.read_text(encoding="utf-8"))} & {*TREES}}
    assert_none(sorted(looking - set(OTHER_YAML)), "above `guide`, ask the records of the model and not the YAML")
    assert looking == set(OTHER_YAML)


def _loaded_after(program: str, tmp_path: Path) -> set[str]:
    """Run a program of its own and return the top names of all modules that it has loaded at its end."""
    report = "\nimport sys; print('\\n'.join(sorted({name.split('.')[0] for name in sys.modules})))"
    ran = subprocess.run(
        [sys.executable, "-c", program + report],
        capture_output=True,
        text=True,
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(SRC.parent)},
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    return set(ran.stdout.split())


SLOW = {"sphinx", "docutils", "jsonschema", "networkx", "rich", "typst", "myst_parser", "markdown_it"}
"""Libraries that are slow to import, and that a check of a good guide does not need."""


def test_the_command_starts_without_slow_libraries(tmp_path: Path) -> None:
    loaded = _loaded_after("import putback.cli", tmp_path)
    assert "putback" in loaded
    assert loaded & (SLOW | {"ruamel", "jsonschema_rs"}) == set()


def test_a_clean_lint_loads_no_slow_library(tmp_path: Path) -> None:
    program = """
from pathlib import Path
from putback.starter import start_guide
start_guide(Path("pump"))
from click.testing import CliRunner
from putback.cli import cli
result = CliRunner().invoke(cli, ["lint", "pump"])
assert result.exit_code == 0, result.output
"""
    loaded = _loaded_after(program, tmp_path)
    assert "jsonschema_rs" in loaded
    assert loaded & SLOW == set()


def test_a_library_that_is_loaded_is_seen(tmp_path: Path) -> None:
    assert "docutils" in _loaded_after("import docutils", tmp_path)
