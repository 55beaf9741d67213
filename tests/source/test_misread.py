"""Words for what the YAML parser refuses; the tables in `tests/hostile/test_yaml.py` have the many."""

from __future__ import annotations

import pytest
from ruamel.yaml.error import YAMLError

from putback.source import load
from putback.source.misread import misread


@pytest.mark.parametrize("error", [TypeError("unhashable type: 'list'."), ValueError(""), YAMLError("of no place")])
def test_an_error_without_a_place_is_told_at_the_beginning(error: Exception) -> None:
    line, column, problem, _ = misread("[{a: 1}]: x", error)
    assert (line, column) == (1, 1)
    assert problem.startswith("this cannot be read as YAML: ")
    assert not problem.endswith((" ", "."))


def test_no_error_of_the_library_gets_out(monkeypatch: pytest.MonkeyPatch) -> None:
    class Broken:
        def __init__(self, _text: str) -> None: ...

        def check_event(self) -> bool:
            raise TypeError("unhashable type: 'list'")

    monkeypatch.setattr(load, "CParser", Broken)
    loaded = load.load_text("[{a: 1}]: x", "f.yaml")
    assert loaded.unreadable
    assert [str(fault.span) for fault in loaded.faults] == ["f.yaml:1:1"]


@pytest.mark.parametrize(
    ("value", "hint"),
    [
        (">= 5 mm", 'write it in quotes: ">= 5 mm"'),
        (">= 5 mm # or so", 'write it in quotes: ">= 5 mm"'),
        ('@ "x"', "write it in quotes"),
        ("@ C:\\x", "write it in quotes"),
        (f"@ {'x' * 80}", "write it in quotes"),
    ],
)
def test_the_hint_is_what_to_write(value: str, hint: str) -> None:
    (fault,) = load.load_text(f"a: b\nc:\n  d: {value}\n", "f.yaml").faults
    assert (str(fault.span), fault.hint) == ("f.yaml:3:6", hint)
    if hint.endswith('"'):
        assert load.load_text(f"a: {hint.partition(': ')[2]}", "f.yaml").faults == []
