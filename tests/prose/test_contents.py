"""The order of jobs in lists."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.prose.contents import jobs_in_order
from putback.source.intake import Memory

JOBS = {f"jobs/{name}.yaml": f"job: {name}\nsteps:\n  - note: x\n" for name in ("anode", "belt", "cam")}


@pytest.mark.parametrize(
    ("pages", "wanted"),
    [
        ({}, ["anode", "belt", "cam"]),
        (
            {"index.md": "# B\n\n```{toctree}\n:hidden:\n\nmachine\njobs/cam\njobs/belt\n```\n"},
            ["cam", "belt", "anode"],
        ),
        ({"index.md": "# B\n\n:::{toctree}\nThe cam <jobs/cam>\n/jobs/belt.yaml\n:::\n"}, ["cam", "belt", "anode"]),
        ({"index.md": "# B\n\njobs/cam\n\n```{toctree}\njobs/*\n```\njobs/belt\n"}, ["anode", "belt", "cam"]),
        ({"index.md": "# B\n", "a.md": "````{toctree}\njobs/belt\n````\n"}, ["belt", "anode", "cam"]),
        ({"index.md": "```{toctree}\njobs/gone\njobs/belt\njobs/belt\n"}, ["belt", "anode", "cam"]),
    ],
)
def test_jobs_stand_in_the_order_of_the_contents(pages: dict[str, str], wanted: list[str]) -> None:
    texts = {"guide.yaml": "title: B\n", "machine.yaml": "machine: B\n", **JOBS, **pages}
    guide = read_guide(Path("/g"), store=Memory({Path("/g", name): text for name, text in texts.items()}))
    assert [job.key for job in jobs_in_order(guide)] == wanted
