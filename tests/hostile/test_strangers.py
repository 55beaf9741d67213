"""Each input of a stranger is answered, in bounded time, and nothing else happens; Python itself tells what does."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from tests.conftest import GUIDE, JOB, MACHINE, Putback
from tests.hostile.strangers import SECRET, TRIED, Tried
from tests.hostile.watching import watched

LONGEST = 20.0
"""Seconds of work for one input: none takes three on an idle machine."""


def lay_out(folder: Path, tried: Tried) -> None:
    """Write a good guide, a library and a secret, and then what the stranger sends in place of it."""
    good = {"pump/guide.yaml": GUIDE, "pump/machine.yaml": MACHINE, "pump/jobs/look.yaml": JOB}
    good |= {"shared/tools.yaml": "{}\n", "secret.txt": f"{SECRET}: [\n"}
    linked = [name for name, content in tried.files.items() if callable(content)]
    whole = {name: text for name, text in good.items() if not any(name.startswith(f"{each}/") for each in linked)}
    for name, content in (whole | dict(tried.files)).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if callable(content):
            content(path)
        else:
            path.write_bytes(content if isinstance(content, bytes) else content.encode())


def there(folder: Path) -> set[Path]:
    """Return all that is in a folder."""
    return set(folder.rglob("*"))


@pytest.mark.parametrize("name", TRIED)
def test_what_a_stranger_sends(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, putback: Putback) -> None:
    tried = TRIED[name]
    monkeypatch.chdir(tmp_path)
    lay_out(tmp_path, tried)
    before, began = there(tmp_path), time.process_time()
    own = [tmp_path / top for top in ("pump", "here", "shared", "sent.po")]
    with watched(own, [tmp_path / "pump" / "translations"] if tried.args[0] == "translate" else []) as reaches:
        answer = putback(*tried.args)
    said = answer.out + answer.err
    assert time.process_time() - began < LONGEST
    # Of a link that leads out, the names at its end are looked at, to tell of it; nothing there is opened.
    assert [reach for reach in reaches if not reach.startswith("os.listdir")] == []
    assert answer.code == tried.code
    assert tried.says in said
    assert SECRET not in said
    assert "fault in Putback" not in said
    assert not set(said) & {chr(sign) for sign in (*range(9), *range(11, 32), 0x7F, 0x202E)}
    assert not any(line.lstrip().startswith("::") for line in said.split("\n"))
    if tried.args[0] != "translate":
        assert there(tmp_path) == before
    assert (tmp_path / "secret.txt").read_text(encoding="utf-8").startswith(SECRET)


def test_there_are_many() -> None:
    assert len(TRIED) >= 60
