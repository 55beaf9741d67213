"""Bad pictures through the command: each at its place in the job, none in what is made."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from tests.conftest import Putback, Write
from tests.pictures.samples import svg
from tests.pictures.test_pictures import BAD, RECT

NAMES = [name for name in BAD if name.endswith((".svg", ".png", ".jpg")) and name != "many.svg"]
INDEX = "# Pump\n\n```{toctree}\nmachine\njobs/look\n```\n"


def steps(names: list[str]) -> str:
    shown = (
        f"  - clean: lid\n    figure: {{image: {json.dumps(name)}, alt: words for {at}}}\n"
        for at, name in enumerate(names)
    )
    return f"job: Look\nsteps:\n{''.join(shown)}"


@pytest.fixture
def guide(write_guide: Write) -> Path:
    files: dict[str, str | bytes | None] = {f"pump/images/{name}": BAD[name][0] for name in NAMES}
    return write_guide({**files, "pump/jobs/look.yaml": steps(NAMES), "pump/index.md": INDEX})


def test_each_picture_is_named_at_its_place(guide: Path, putback: Putback) -> None:
    answer = putback("lint", "--format", "json", "pump")
    assert answer.code == 1
    found = {finding["line"]: finding for finding in answer.data["findings"] if finding["check"] == "bad-picture"}
    assert len(found) == len(NAMES)
    for at, name in enumerate(NAMES):
        finding = found[4 + 2 * at]
        assert finding["path"] == "pump/jobs/look.yaml"
        assert (finding["column"], finding["end_column"]) == (21, 23 + len(name))
        assert finding["message"].startswith(f"'{name}' cannot be shown: ")
        assert BAD[name][1] in finding["message"]
    assert not (guide.parent / "build").exists()


def test_a_guide_with_a_bad_picture_is_not_printed_and_its_draft_has_the_words(guide: Path, putback: Putback) -> None:
    answer = putback("build", "pump")
    assert answer.code == 1
    assert "made" not in answer.out
    answer = putback("build", "--draft", "pump")
    page = (guide.parent / "build" / "pump" / "html" / "jobs" / "look.html").read_text(encoding="utf-8")
    assert "made build/pump/pump-a4.pdf" in answer.out
    for at, name in enumerate(NAMES):
        assert f"pump/jobs/look.yaml:{4 + 2 * at}: WARNING: picture '/images/{name}' cannot be shown: " in answer.err
        assert f"[Picture not shown: words for {at}]" in page
    assert not (guide.parent / "build" / "pump" / "html" / "_images").exists()


def test_names_and_places_of_pictures(write_guide: Write, putback: Putback) -> None:
    folder = write_guide({"pump/images/good.svg": svg(RECT), "secret.svg": svg("<text>SECRET</text>")})
    images = folder / "images"
    (images / "folder.svg").mkdir()
    os.mkfifo(images / "pipe.svg")
    (images / "gone.svg").symlink_to("nowhere.svg")
    (images / "out.svg").symlink_to(folder.parent / "secret.svg")
    (images / "zero.png").symlink_to("/dev/zero")
    (images / "round.svg").symlink_to("round.svg")
    (images / "away").symlink_to(folder.parent)
    expected = {
        "good.svg": None,
        "../images/good.svg": None,
        "folder.svg": None,
        "pipe.svg": None,
        "gone.svg": None,
        "out.svg": "bad-picture: 'out.svg' cannot be shown: it is a link that leads outside the guide",
        "away/secret.svg": "bad-picture: 'away/secret.svg' cannot be shown: it is a link that leads outside the guide",
        "zero.png": None,
        "round.svg": None,
        "Good.svg": "no-picture: there is no picture 'Good.svg' in images/",
        "none.svg": "no-picture: there is no picture 'none.svg' in images/",
        "../../secret.svg": "no-picture: '../../secret.svg' is outside the guide's images/",
        "../../../../etc/passwd": "no-picture: '../../../../etc/passwd' is not a picture that can be printed",
        "/etc/passwd.svg": "no-picture: '/etc/passwd.svg' is outside the guide's images/",
        "https://example.org/a.svg": "no-picture: there is no picture 'https://example.org/a.svg' in images/",
        "a" * 300 + ".svg": f"bad-picture: '{'a' * 39}…' cannot be shown: its name is longer than 200 bytes",
        "good.svg/x.svg": "no-picture: there is no picture 'good.svg/x.svg' in images/",
        "x" * 30 + "/" * 5000 + "a.svg": "no-picture: there is no picture",
    }  # fmt: skip
    (folder / "jobs" / "look.yaml").write_text(steps([*expected]), encoding="utf-8")
    answer = putback("lint", "pump")
    assert "SECRET" not in answer.out
    found = putback("lint", "--format", "json", "pump").data["findings"]
    unread = {finding["path"] for finding in found if finding["check"] == "unread-file"}
    assert unread == {f"pump/images/{name}" for name in ("folder.svg", "pipe.svg", "gone.svg", "zero.png", "round.svg")}
    found = [finding for finding in found if finding["path"] == "pump/jobs/look.yaml"]
    by_line = {finding["line"]: f"{finding['check']}: {finding['message']}" for finding in found}
    for at, (name, said) in enumerate(expected.items()):
        got = by_line.get(4 + 2 * at)
        assert (got is None) is (said is None), name
        assert got is None or got.startswith(str(said)), name
    hints = {finding["line"]: finding.get("hint") for finding in found}
    for at, name in enumerate(expected):
        assert f"'{name}'" not in str(hints.get(4 + 2 * at)), "a hint that says the same name"


@pytest.mark.parametrize("name", ["a\\0b.svg", "a\\x1b.svg", "a\\nb.svg", "\\u202ea.svg", "\\x7f.png"])
def test_names_with_signs_that_nobody_sees(name: str, write_guide: Write, putback: Putback) -> None:
    job = f'job: Look\nsteps:\n  - clean: lid\n    figure: {{image: "{name}", alt: words}}\n'
    write_guide({"pump/jobs/look.yaml": job, "pump/index.md": INDEX})
    answer = putback("lint", "pump")
    assert answer.code in (1, 2)
    assert not set(answer.out) & set("\0\x1b\u202e\x7f")
    assert putback("lint", "--format", "json", "pump").data["findings"][0]["line"] == 4
    assert putback("build", "--draft", "pump").code in (0, 1, 2)


def test_a_folder_of_pictures_that_lies_elsewhere(write_guide: Write, putback: Putback) -> None:
    folder = write_guide({"elsewhere/a.svg": svg(RECT), "pump/jobs/look.yaml": steps(["a.svg", "b.svg"])})
    (folder / "images").symlink_to(folder.parent / "elsewhere")
    answer = putback("lint", "pump")
    assert answer.code == 1
    assert "'a.svg' cannot be shown: it is a link that leads outside the guide" in answer.out
    assert "there is no picture 'b.svg' in images/" in answer.out
    assert "did you mean" not in answer.out
