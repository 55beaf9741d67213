"""Pictures in the documentation: printed pages, and findings in colour."""

from __future__ import annotations

import importlib.util
import os
import re
import struct
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

from tests.pasted import ROOT, renewed, write_files

EXTENSIONS = ROOT / "docs" / "_ext"
TUTORIAL = ROOT / "docs" / "tutorial"

PAGE = """\
# A page

<!-- file: pump/guide.yaml -->

```yaml
title: Pump
```

<!-- file: pump/index.md -->

````markdown
# Pump

```{toctree}
machine
jobs/cover
```
````

<!-- file: pump/machine.yaml -->

```yaml
machine: Pump
parts:
  pump: {name: pump}
  cover: {name: cover}
fasteners:
  screws: {count: 2, secures: cover, to: pump, torque: 2 N·m}
```

<!-- file: pump/jobs/cover.yaml -->

```yaml
job: Look under the cover
purpose: See what is there.
skill: Anyone.
steps:
  - remove: screws
  - remove: cover
  - install: cover
  - install: screws
  - tighten: screws
  - check: cover
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
```

```{putback-printed} pump
:job: cover
:from: Remove the cover
:to: Install the two screws
:alt: Three steps.

The *way* back.
```

```{putback-printed} pump
:paper: letter
:alt: The cover.
```

## What is wrong

```{putback-printed} pump
:job: cover
```

```{putback-printed} pump
:job: cover
:from: Paint the cover
:alt: No such step.
```

```{putback-printed} rocket
:alt: No such guide.
```
"""


@pytest.fixture(scope="module")
def pictures() -> ModuleType:
    sys.path.insert(0, str(EXTENSIONS))
    try:
        spec = importlib.util.spec_from_file_location("pictures", EXTENSIONS / "pictures.py")
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
    finally:
        sys.path.remove(str(EXTENSIONS))
    return module


def sphinx(source: Path, out: Path, builder: str) -> str:
    """Build a project that has nothing but the page; return what Sphinx said."""
    (source / "_static").mkdir(exist_ok=True)
    (source / "conf.py").write_text(
        'project = "Pictures"\nextensions = ["myst_parser", "putback.sphinxext", "pictures"]\n', encoding="utf-8"
    )
    paths = os.pathsep.join([str(EXTENSIONS), str(ROOT), *filter(None, sys.path)])
    ran = subprocess.run(
        [sys.executable, "-m", "sphinx", "-q", "-b", builder, str(source), str(out)],
        env={**os.environ, "PYTHONPATH": paths, "NO_COLOR": "1"}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    return ran.stderr


def size_of(png: Path) -> tuple[int, int]:
    width, height = struct.unpack(">II", png.read_bytes()[16:24])
    return width, height


def test_a_page_shows_the_guide_that_it_had_the_reader_write(tmp_path: Path) -> None:
    source = tmp_path / "source"
    source.mkdir()
    (source / "index.md").write_text(PAGE, encoding="utf-8")
    said = sphinx(source, tmp_path / "html", "html")
    assert re.findall(r"index\.md:\d+: ERROR: (.*?) \[docutils\]", said) == [
        "a printed page needs ':alt:', what it shows in words",
        "'jobs/cover' has no step or heading 'Paint the cover'",
        "there is no guide 'rocket', and the page wrote none",
    ]
    html = (tmp_path / "html" / "index.html").read_text(encoding="utf-8")
    shown = dict(re.findall(r'<img alt="([^"]*)" src="([^"]*)"', html))
    assert list(shown) == ["Three steps.", "The cover."]
    assert "<em>way</em> back." in html
    part, whole = (tmp_path / "html" / address for address in shown.values())
    assert size_of(whole) == (2 * 612, 2 * 792)
    width, height = size_of(part)
    assert width < 2 * 595
    assert 2 * 60 < height < 2 * 200
    left = [path for path in (tmp_path / "html" / ".doctrees" / "pictures").iterdir() if path.is_dir()]
    assert left == []


NEW_LINES = """
```{code-block} yaml
:emphasize-lines: 2, 4-5

one: 1
two: 2
three: 3
four: 4
five: 5
```
"""


def test_pictures_and_new_lines_are_in_the_printed_documentation_too(tmp_path: Path) -> None:
    source = tmp_path / "source"
    source.mkdir()
    (source / "index.md").write_text(PAGE.partition("## What is wrong")[0] + NEW_LINES, encoding="utf-8")
    assert sphinx(source, tmp_path / "pdf", "typstpdf") == ""
    printed = (tmp_path / "pdf" / ".doctrees" / "typst" / "pages.main.typ").read_text(encoding="utf-8")
    assert printed.count("picture(image(") == 2
    assert "marked: (2, 4, 5, )" in printed


def test_a_part_goes_over_one_page_break(pictures: ModuleType, tmp_path: Path) -> None:
    pages = sys.modules[pictures.printed.__module__]
    for number in (1, 2, 3):
        (tmp_path / f"{number}.svg").write_text('<svg viewBox="0 0 596 842">', encoding="utf-8")
    places = [(1, 730.0, "1 One"), (2, 76.0, "2 Two"), (2, 104.0, "3 Three"), (3, 76.0, "4 Four"), (3, 104.0, "")]
    guide = pages.Printed(tmp_path, tuple(pages.Place(*at, "a" if words else "", words) for *at, words in places))
    assert guide.between("a", "One", "Two", below=20).pieces == ((1, 722, 28), (2, 68, 28))
    assert guide.between("a", "Three", "Four").pieces == ((2, 96, 684), (3, 68, 44))
    with pytest.raises(pages.NotThereError, match="'Four' is on page 3, 'One' on page 1"):
        guide.between("a", "One", "Four")


FOUND = """\
$ putback lint pump
pump/jobs/cover.yaml

  cover comes off and never goes back
    6 |   - remove: cover
      |             ~~~~~
      fix: add 'install: cover'
      error left-off at pump/jobs/cover.yaml:6:13

  two screws have no torque
    7 |   - tighten: screws
      |              ~~~~~~
      warning torque-missing at pump/jobs/cover.yaml:7:14

1 job, 4 steps in 9 files: 1 error, 1 warning
$ putback lint pump
1 job, 6 steps in 9 files: everything goes back
"""


def test_findings_have_the_colours_of_a_terminal_and_lose_no_letter(pictures: ModuleType) -> None:
    tokens = list(pictures.FindingsLexer().get_tokens(FOUND))
    assert "".join(text for _, text in tokens) == FOUND
    coloured = {text.strip(): str(kind).rpartition(".")[2] for kind, text in tokens if text.strip()}
    assert coloured["cover comes off and never goes back"] == "Deleted"
    assert coloured["two screws have no torque"] == "Traceback"
    assert coloured["fix: add 'install: cover'"] == "Inserted"
    assert coloured["6 |   - remove: cover"] == "Output"
    assert coloured["~~~~~"] == "Error"
    assert coloured["warning torque-missing at pump/jobs/cover.yaml:7:14"] == "Comment"
    assert coloured["1 job, 6 steps in 9 files: everything goes back"] == "Inserted"
    assert coloured["1 job, 4 steps in 9 files: 1 error, 1 warning"] == "Text"


def test_a_finding_is_shown_that_a_missing_line_brings(pictures: ModuleType) -> None:
    shown = pictures.found_without("procedures/sessel-w15", "jobs/line.yaml", "  - tighten: clamp-screws")
    assert shown.startswith("$ putback lint procedures/sessel-w15\nprocedures/sessel-w15/jobs/line.yaml\n")
    assert "two clamp screws go in hand-tight and are never tightened" in shown
    with pytest.raises(Exception, match="not in exactly one line"):
        pictures.found_without("procedures/sessel-w15", "jobs/line.yaml", "  - ")


# The tutorial.


def test_each_page_of_the_tutorial_goes_on_from_the_one_before() -> None:
    index = (TUTORIAL / "index.md").read_text(encoding="utf-8")
    order = index.partition(":hidden:\n\n")[2].partition("```")[0].split()
    assert sorted(order) == sorted(page.stem for page in TUTORIAL.glob("*.md") if page.stem != "index")
    texts = [(TUTORIAL / f"{name}.md").read_text(encoding="utf-8") for name in order]
    before = [found for text in texts for found in re.findall(r"<!-- goes-on: (\S+)\.md -->", text)]
    assert before == order[:-1]
    following = [
        found for text in texts for found in re.findall(r"^Next: \[[^]]*\]\((\S+)\.md\)\.$", text, re.MULTILINE)
    ]
    assert following == order[1:]


def test_who_follows_the_tutorial_types_at_most_150_lines() -> None:
    typed = 0
    for page in TUTORIAL.glob("*.md"):
        for _, head, block in re.findall(
            r"<!-- (?:file|append): \S+ -->\s+(`{3,})\{code-block\} [a-z]+\n((?::[^\n]*\n)*)\n(.*?)^\1$",
            page.read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE,
        ):  # fmt: skip
            lines = block.splitlines()
            marked = re.search(r"^:emphasize-lines: (.*)$", head, re.MULTILINE)
            new = numbers_in(marked[1]) if marked else range(1, len(lines) + 1)
            typed += sum(bool(lines[number - 1].strip()) for number in new)
    assert 100 < typed <= 150


def numbers_in(ranges: str) -> list[int]:
    ends = [[int(end) for end in part.split("-")] for part in ranges.split(", ")]
    return [number for end in ends for number in range(end[0], end[-1] + 1)]


def test_new_lines_are_emphasized_and_a_page_goes_on_from_another(tmp_path: Path) -> None:
    first = tmp_path / "first.md"
    first.write_text("<!-- file: a/b.txt -->\n```text\none\ntwo\n```\n", encoding="utf-8")
    second = tmp_path / "second.md"
    block = "```{code-block} text\n:caption: b\n\none\nand a half\ntwo\nthree\n```\n"
    text = f"<!-- goes-on: first.md -->\n<!-- file: a/b.txt -->\n{block}"
    marked = text.replace(":caption: b\n", ":caption: b\n:emphasize-lines: 2, 4\n")
    assert renewed(text, second) == renewed(marked, second) == marked
    write_files(text, second, tmp_path / "place")
    assert (tmp_path / "place" / "a" / "b.txt").read_text(encoding="utf-8") == "one\nand a half\ntwo\nthree\n"
