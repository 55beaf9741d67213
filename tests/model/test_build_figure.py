"""Pictures of steps: what cannot be printed as it is written."""

from __future__ import annotations

import pytest

from putback.model.build_job import build_job
from putback.source.load import Mapping, load_text
from putback.source.schema import FileKind, validate


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ("width: 0 mm", ["bad-quantity at 4:37: '0 mm' is not a length that a picture can have"]),
        (
            "callouts: [{text: x, at: 1 % 2 %, circle: 0 %}]",
            ["bad-quantity at 4:72: '0 %' is not a percentage that a picture can have"],
        ),
        (
            "callouts: [{text: x, at: [9 % 9 %, 1 % 2 %], arrow: 1.0 % 2 %}]",
            ["wrong-shape at 4:82: the arrow ends where it begins, so it shows no way"],
        ),
        ("width: 1 mm, callouts: [{text: x, at: 1 % 2 %, circle: 1 %, arrow: 2 % 1 %}]", []),
    ],
)
def test_what_a_picture_cannot_have(keys: str, said: list[str]) -> None:
    text = f"job: J\nsteps:\n  - inspect: lid\n    figure: {{image: lid.svg, {keys}}}\n"
    loaded = load_text(text, "jobs/look.yaml")
    assert isinstance(loaded.root, Mapping), loaded.faults
    assert validate(loaded, FileKind.JOB) == []
    _, faults = build_job(loaded.root, "jobs/look.yaml")
    assert [f"{each.check} at {each.span.line}:{each.span.column}: {each.message}" for each in faults] == said
