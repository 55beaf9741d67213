"""The conventions of the house as tests: each is a function that names what breaks it."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import putback
from putback.checks import all_checks
from putback.guide.library import read_shelf
from putback.model.terms import Signal
from putback.source.schema import shipped
from putback.testing.examples import parse_example
from tests.guard import assert_none

SRC = Path(putback.__file__).parent
ROOT = SRC.parents[1]
MODULES = sorted(SRC.rglob("*.py"))
CHECKS = sorted(path for path in (SRC / "checks").glob("*.py") if path.name != "__init__.py")

NAMES = [
    "left-off", "pieces-missing", "not-there", "blocked", "left-loose", "left-open", "left-dry", "control-not-returned",
    "equipment-left", "single-use-reused", "torque-missing", "caution-missing", "caution-late", "not-isolated",
    "unknown-name", "bad-cycle",
    "no-final-test",
]  # fmt: skip
"""Checks that the design names and that are there."""

LONGEST_CHECK = 150
LONGER_CHECKS = {"blocked", "not_there"}
"""Checks with more to say than fits: reach, order and fluids are one fault to a mechanic."""
LONGEST_MODULE = 300
LONGER_MODULES = {
    "variants/space.py": 338,  # whoever is let into its tables can break them
}
"""Modules with a reason to be longer, and how long they may be."""
LONGEST_FUNCTION = 39
VAGUE = {"utils", "util", "helpers", "helper", "common", "base", "misc"}


def read(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def test_all_that_is_found_is_listed_after_what_to_do() -> None:
    assert_none([], "divide these")
    with pytest.raises(AssertionError, match=r"^divide these:\n  a\.py: 301\n  b\.py: 302$"):
        assert_none({"a.py": 301, "b.py": 302}, "divide these")


# Checks


def order_of(text: str) -> list[str]:
    """Return what a check's module has, in the order of the file."""
    wanted = {"LEVEL", "GROUP", "STAGE", "FAILS", "PASSES", "find"}
    found = []
    for node in ast.parse(text).body:
        names = (
            [target.id for target in node.targets if isinstance(target, ast.Name)]
            if isinstance(node, ast.Assign)
            else []
        )
        if isinstance(node, ast.FunctionDef):
            names = [node.name]
        found += [name for name in names if name in wanted]
    return found


def is_well_ordered(text: str) -> bool:
    order = order_of(text)
    return order in (["LEVEL", "GROUP", "FAILS", "PASSES", "find"], ["LEVEL", "GROUP", "STAGE", "FAILS", "PASSES"])


def paragraphs(text: str) -> list[str]:
    return [part for part in (ast.get_docstring(ast.parse(text)) or "").split("\n\n") if part.strip()]


@pytest.mark.parametrize("path", CHECKS, ids=lambda path: path.stem)
def test_a_check_is_one_file_of_one_form(path: Path) -> None:
    text = read(path)
    order = "LEVEL, GROUP, FAILS, PASSES, find; or LEVEL, GROUP, STAGE, FAILS, PASSES when an earlier stage finds it"
    assert is_well_ordered(text), f"write them in this order: {order}; here it is {', '.join(order_of(text))}"
    fault, *rest = paragraphs(text)
    assert len(rest) >= 2, "the docstring needs three paragraphs: the fault, why it matters, what to do instead"
    assert "\n" not in fault, "the first paragraph of the docstring, the fault, must be one line"
    assert fault.endswith("."), "the first line of the docstring must be a sentence, with a full stop"
    if path.stem not in LONGER_CHECKS:
        wanted = f"a check has {LONGEST_CHECK} lines at most: what finds things out belongs in `ledger/` or `model/`"
        assert text.count("\n") <= LONGEST_CHECK, wanted


def test_another_form_is_seen() -> None:
    assert not is_well_ordered("FAILS = ''\nLEVEL = 1\nPASSES = ''\ndef find(): ...\n")
    assert not is_well_ordered("LEVEL = 1\nGROUP = 1\nFAILS = ''\nPASSES = ''\n")
    assert not is_well_ordered("LEVEL = 1\nFAILS = ''\nPASSES = ''\ndef find(): ...\n")
    assert paragraphs('"""One.\n\nTwo.\n"""\n') == ["One.", "Two."]


def test_longer_checks_are_longer() -> None:
    for name in LONGER_CHECKS:
        assert read(SRC / "checks" / f"{name}.py").count("\n") > LONGEST_CHECK


def test_the_checks_of_the_design_are_there() -> None:
    assert_none([name for name in NAMES if name not in all_checks()], "these checks are named in the design")


@pytest.mark.parametrize("path", CHECKS, ids=lambda path: path.stem)
def test_examples_use_no_carets_of_other_checks(path: Path) -> None:
    """An example that fails for two reasons explains neither."""
    check = all_checks()[path.stem.replace("_", "-")]
    marks = parse_example(check.module.FAILS).marks
    others = [mark for mark in marks if mark.check]
    assert_none(others, "change FAILS so that no other check finds anything; such an example belongs in tests/cases")
    assert marks, "mark the fault in FAILS with carets"


# Messages


def is_plain_message(message: str) -> bool:
    """Lower case, a quotation, a number or a name of a standard (M6, SAE J429) at the start, no final stop."""
    return bool(re.match(r"[a-z0-9'\"]|[A-Z]{1,4}[0-9]|[A-Z]{2}", message)) and not message.endswith((".", "!"))


def test_messages_start_in_lower_case_and_have_no_final_stop() -> None:
    texts = {path.name: read(path) for path in sorted((ROOT / "tests" / "cases").rglob("*.txt"))}
    texts |= {name: check.module.FAILS for name, check in all_checks().items()}
    messages = [(name, mark.message) for name, text in texts.items() for mark in parse_example(text).marks]
    assert len(messages) > 100
    loud = [f"{name}: {message}" for name, message in messages if not is_plain_message(message)]
    assert_none(loud, "begin these messages in lower case, and leave out the full stop")


def test_a_loud_message_is_seen() -> None:
    assert not is_plain_message("Six screws are missing")
    assert not is_plain_message("six screws are missing.")
    assert is_plain_message("'6' has no unit")
    assert is_plain_message("M6 has no pitch 1.1")


# Modules


def test_no_module_has_a_vague_name() -> None:
    vague = [path.relative_to(SRC) for path in SRC.rglob("*") if path.stem.strip("_") in VAGUE]
    assert_none(vague, "name these modules after what they do")


def test_no_module_is_long() -> None:
    lengths = {path.relative_to(SRC).as_posix(): read(path).count("\n") for path in MODULES}
    long = {name: lines for name, lines in lengths.items() if lines > LONGER_MODULES.get(name, LONGEST_MODULE)}
    assert_none(long, f"divide these modules into parts of at most {LONGEST_MODULE} lines that each have one subject")
    short = [name for name in LONGER_MODULES if lengths[name] <= LONGEST_MODULE]
    assert_none(short, "these are no longer too long: take them out of LONGER_MODULES")


def long_functions(text: str) -> list[str]:
    """Return functions that are too long to be seen at once; one that is a flat `match` reads as a table."""
    return [
        node.name
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.FunctionDef)
        and (node.end_lineno or 0) - node.lineno + 1 > LONGEST_FUNCTION
        and not any(isinstance(part, ast.Match) for part in node.body)
    ]


def test_no_function_is_long() -> None:
    found = {path.relative_to(SRC).as_posix(): long for path in MODULES if (long := long_functions(read(path)))}
    assert_none(found, f"take something out of these functions: {LONGEST_FUNCTION} lines are the most")


def test_a_long_function_is_seen() -> None:
    assert long_functions("def f():\n" + "    x = 1\n" * LONGEST_FUNCTION) == ["f"]
    assert long_functions("def f():\n" + "    x = 1\n" * (LONGEST_FUNCTION - 1)) == []
    assert long_functions("def f():\n    match 1:\n" + "        case 1: pass\n" * 60) == []


def twice(texts: dict[str, str]) -> dict[str, list[str]]:
    """Return the names that more than one class has, private ones too, with the modules."""
    found: dict[str, list[str]] = {}
    for name, text in texts.items():
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.ClassDef):
                found.setdefault(node.name, []).append(name)
    return {name: where for name, where in found.items() if len(where) > 1}


def test_a_class_name_is_used_once() -> None:
    found = twice({path.relative_to(SRC).as_posix(): read(path) for path in MODULES})
    assert_none(found, "give one of these classes another name")


def test_a_class_name_that_is_used_twice_is_seen() -> None:
    assert twice({"a.py": "class A: ...\nclass B: ...\n", "b.py": "def f():\n    class A: ...\n"}) == {
        "A": ["a.py", "b.py"]
    }


def prints(text: str) -> list[int]:
    """Return the lines that print: what a person reads goes through the command."""
    return [
        node.lineno
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "print"
    ]


def test_nothing_prints() -> None:
    found = {path.relative_to(SRC).as_posix(): lines for path in MODULES if (lines := prints(read(path)))}
    assert_none(found, "do not print in these lines: return it, and let `cli/` say it")
    assert prints("x = 1\nprint(x)\n") == [2]


def bare(text: str) -> Iterator[str]:
    """Yield public functions and classes without a docstring; methods of private classes are private too."""
    waiting: list[tuple[str, ast.AST]] = [("", ast.parse(text))]
    while waiting:
        prefix, node = waiting.pop()
        for child in ast.iter_child_nodes(node):
            if not isinstance(child, ast.FunctionDef | ast.ClassDef) or child.name.startswith("_"):
                continue
            name = f"{prefix}{child.name}"
            if ast.get_docstring(child) is None and not any(
                isinstance(mark, ast.Name) and mark.id == "overload" for mark in child.decorator_list
            ):
                yield name
            if isinstance(child, ast.ClassDef):
                waiting.append((f"{name}.", child))


@pytest.mark.parametrize(
    "path",
    [path for path in MODULES if "sphinxext" not in path.parts],
    ids=lambda path: path.relative_to(SRC).as_posix(),
)
def test_what_is_public_says_what_it_is(path: Path) -> None:
    text = read(path)
    assert ast.get_docstring(ast.parse(text)) is not None, "say in a docstring what the module is"
    assert_none(bare(text), "say in a docstring what these are, or begin their names with '_'")


def test_a_missing_docstring_is_seen() -> None:
    text = "class A:\n    '''A.'''\n    def f(self): ...\n    def _g(self): ...\ndef h(): ...\n"
    text += "class _B:\n    def f(self): ...\n"
    assert sorted(bare(text)) == ["A.f", "h"]


# The tree

UNWANTED = ("tran" + "script", "/wo" + "rk/", "/t" + "mp/")
"""Words of a workshop, not of a book. Taken apart, so that this file does not hold them."""


def unwanted(text: str) -> list[str]:
    return [word for word in UNWANTED if word in text.lower()]


@pytest.mark.parametrize("folder", ["src", "docs", "procedures", "shared", "schema", ".ci"])
def test_no_file_tells_where_it_was_made(folder: str) -> None:
    found = {}
    for path in (ROOT / folder).rglob("*"):
        if path.is_file() and path.suffix not in (".pyc", ".png", ".jpg", ".pdf"):
            words = unwanted(path.read_text(encoding="utf-8", errors="replace"))
            if words:
                found[str(path.relative_to(ROOT))] = words
    assert_none(found, "take these words out: they tell where the file was made")


def test_an_unwanted_word_is_seen() -> None:
    assert unwanted(f"see {UNWANTED[1]}main") == [UNWANTED[1]]


# The library


def test_every_caution_of_the_library_is_whole() -> None:
    shelf = read_shelf(shipped("shared"), "shared")
    assert shelf.faults == ()
    assert shelf.cautions
    for caution in shelf.cautions.values():
        assert caution.hazard.endswith("."), caution.key
        assert caution.consequence.endswith("."), caution.key
        assert caution.avoid, caution.key
        assert all(way.endswith(".") for way in caution.avoid), caution.key
        assert caution.covers, caution.key
        assert [ref.name for ref in caution.covers if ref.name not in shelf.hazards] == [], caution.key


def test_every_hazard_of_the_library_is_answered_gravely_enough() -> None:
    shelf = read_shelf(shipped("shared"), "shared")
    gravest = list(Signal)
    for hazard in shelf.hazards.values():
        answers = [caution for caution in shelf.cautions.values() if hazard.key in {ref.name for ref in caution.covers}]
        assert answers, hazard.key
        for caution in answers:
            assert gravest.index(caution.signal) <= gravest.index(hazard.signal_at_least), (hazard.key, caution.key)
