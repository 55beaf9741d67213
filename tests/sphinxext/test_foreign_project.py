"""A guide of a stranger in a Sphinx project of one's own: still only data, while the project's own settings rule."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
import urllib3  # noqa: F401 - tries, when imported first, whether this computer has an IPv6 address

from tests.hostile.watching import watched
from tests.pictures.samples import svg

from .projects import GUIDE, build, write

pytestmark = pytest.mark.filterwarnings("ignore:.*is deprecated. Check CHANGES for Sphinx")  # in MyST-Parser

SECRET = "SECRET-4711"


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """Return a project with a good guide in `good`, a stranger's in `hostile`, and a secret beside it."""
    root = tmp_path / "project"
    write(root, {f"good/{name}": text for name, text in GUIDE.items()})
    write(root, {f"hostile/{name}": text for name, text in GUIDE.items()})
    write(root, {"index.md": "# Book\n\n```{toctree}\ngood/index\nhostile/index\n```\n"})
    write(tmp_path, {"secret.txt": SECRET, "secret.yaml": f"job: {SECRET}\nsteps: [{{inspect: lid}}]\n"})
    return root


def test_a_hostile_guide_in_a_project_of_ones_own(project: Path, tmp_path: Path) -> None:
    hostile = project / "hostile"
    (hostile / "jobs" / "secret.yaml").symlink_to(tmp_path / "secret.yaml")
    os.mkfifo(hostile / "jobs" / "pipe.txt")
    (hostile / "blocks").mkdir()
    os.mkfifo(hostile / "blocks" / "pipe.yaml")
    write(hostile, {"conf.py": "open('ran', 'w')", "jobs/conf.py": "open('ran', 'w')"})
    note = "{{ x }} #read('/etc/passwd') ]]> </script>"
    text = f'job: <script>alert(1)</script>\nsteps:\n  - inspect: lid\n    note: "{note}"\n'
    write(hostile, {"jobs/words.yaml": text})
    write(hostile, {"index.md": GUIDE["index.md"].replace("jobs/seal", "jobs/seal\njobs/words")})
    with watched([project], [project / "_build"]) as reaches:
        _, warnings = build(project, html_copy_source=False)
    # Docutils looks for its own settings, and Sphinx opens whatever a link leads to: what is in it goes nowhere.
    theirs = ("docutils.conf", ".docutils", "/secret.yaml")
    assert [reach for reach in reaches if not reach.startswith("os.listdir") and not reach.endswith(theirs)] == []
    assert "this is a link that leads outside the guide" in (
        project / "_build" / "html" / "hostile" / "jobs" / "secret.html"
    ).read_text(encoding="utf-8")
    made = [path for path in (project / "_build" / "html").rglob("*") if path.is_file()]
    assert not [path for path in made if SECRET.encode() in path.read_bytes()]
    page = (project / "_build" / "html" / "hostile" / "jobs" / "words.html").read_text(encoding="utf-8")
    assert "<script>alert(1)" not in page
    assert "&lt;script&gt;alert(1)" in page
    assert not list(tmp_path.rglob("ran"))
    assert not Path("ran").exists()
    assert "Traceback" not in warnings


def test_the_settings_of_the_project_rule(project: Path) -> None:
    """What its `conf.py` lets pages do, they may do: its author answers for them, and `-W` makes each finding fail."""
    write(
        project / "good", {"more.md": "---\norphan: true\n---\n\n# More\n\n<b onclick='x()'>bold</b>\n\n{{ word }}\n"}
    )
    write(project, {"part.txt": "Words of another file.\n"})
    write(project, {"other.md": "---\norphan: true\n---\n\n# Other\n\n```{include} part.txt\n```\n"})
    (project / "images").mkdir()
    (project / "images" / "a.svg").write_text(svg("<script>ran()</script><rect width='9' height='9'/>"))
    write(project, {"drawn.md": "---\norphan: true\n---\n\n# Drawn\n\n![x](images/a.svg)\n"})
    words_of = {"word": "replaced"}
    _, warnings = build(project, myst_enable_extensions=["substitution"], myst_substitutions=words_of)
    html = project / "_build" / "html"
    assert "<b onclick='x()'>bold</b>" in (html / "good" / "more.html").read_text(encoding="utf-8")
    assert "replaced" in (html / "good" / "more.html").read_text(encoding="utf-8")
    assert "Words of another file." in (html / "other.html").read_text(encoding="utf-8")
    # Pictures are clean all the same.
    assert "ran()" not in (html / "_images" / "a.svg").read_text(encoding="utf-8")
    assert re.search(r"has a program \('script'\), on line 1, which is left out", warnings)
