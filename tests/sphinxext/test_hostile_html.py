"""What an author writes stays text: in tags, in attributes, in scripts of the search, wherever it comes to stand."""

from __future__ import annotations

import json
import re
import warnings
from collections.abc import Callable
from html.parser import HTMLParser
from importlib.resources import files
from pathlib import Path

import pytest
from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import docutils_namespace, patch_docutils

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext import nodes as own
from putback.sphinxext.building import table
from putback.sphinxext.manual import build_manual
from tests.sphinxext.projects import write

HOSTILE = "x\"' onfocus=alert(1) autofocus><script>alert(1)</script><img src=q onerror=alert(2)></p><b>&lt;i&gt; \\"
"""Ends an attribute of either quotation mark, opens tags and scripts, and ends with what escapes a quotation mark."""

H = json.dumps(HOSTILE)
"""As a text of YAML."""

COVER = f"""\
title: {H}
subtitle: {H}
edition: {H}
authors: [{H}]
licence: {H}
read-first: {H}
revisions: [{{edition: {H}, date: 2026-11-25, changes: [{H}]}}]
"""

MACHINE = f"""\
machine: {H}
kind: {H}
note: {H}
options:
  reach: [near, far]
controls:
  tap: {{name: {H}, positions: [open, closed], normal: open, note: {H}}}
parts:
  body: {{name: {H}}}
  lid: {{name: {H}, number: {H}, kit: {H}, mass: 2 kg, note: {H}, wear: {{measure: {H}, limit: ">= 1 mm"}}}}
  seal: {{name: {H}, number: {H}, replace: always, when: {{reach: far}}}}
fasteners:
  screws: {{name: {H}, count: 6, thread: M6 x 1.0, drive: {H}, secures: lid, to: body, torque: 9 N·m, order: crosswise,
            class: 8.8, layout: circle 100 mm}}
stacks:
  - [lid, seal]
lines:
  hose: {{name: {H}, kind: {H}, joins: [lid, body], note: {H}}}
fluids:
  oil: {{name: {H}, grade: {H}, volume: 1 l}}
"""

JOB = f"""\
job: {H}
purpose: {H}
sections:
  - title: {H}
    steps:
      - set: tap
        to: closed
      - caution: danger
      - note: {H}
      - remove: screws
        note: {H}
        because: {H}
        tool: puller
      - remove: lid
        figure: {{image: pic.svg, alt: {H}, caption: {H}}}
      - remove: seal
      - measure: {H}
        limit: "<= 0.2 mm"
        otherwise:
          - note: {H}
          - check: {H}
            limit: {H}
            otherwise:
              - stop: {H}
      - install: seal
        new: true
      - install: lid
      - install: screws
      - tighten: screws
"""

SHARED = {
    "hazards.yaml": f"pinching: {{name: {H}, signal-at-least: warning, ppe: [{H}]}}\n",
    "cautions.yaml": (
        f"danger: {{signal: danger, hazard: {H}, consequence: {H}, avoid: [{H}], covers: [pinching], ppe: [{H}]}}\n"
    ),
    "tools.yaml": f"puller: {{name: {H}}}\n",
}

INDEX = """\
# Start

```{toctree}
machine
jobs/lid
```

```{putback-jobs}
```

```{putback-torques}
```

```{putback-cautions}
```
"""

PICTURE = '<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10"/>\n'


class Page(HTMLParser):
    """A page as a browser reads it: its tags, and its text."""

    def __init__(self, source: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.scripts: list[str] = []
        self.data: list[str] = []
        self._within = ""
        self.feed(source)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self._within = "data" if tag == "script" and dict(attrs) == {"type": "application/ld+json"} else tag

    def handle_endtag(self, tag: str) -> None:
        self._within = ""

    def handle_data(self, data: str) -> None:
        if self._within == "data":
            self.data.append(data)
            return
        if self._within == "script":
            self.scripts.append(data)
        self.text += data

    def faults(self) -> list[str]:
        """Return what no page of ours has."""
        found = [f"script: {script}" for script in self.scripts if script.strip()]
        for tag, attributes in self.tags:
            if tag in ("b", "i") and attributes != {"class": "number"}:
                found.append(f"<{tag}>")
            for name, value in attributes.items():
                if not re.fullmatch(r"[a-z][a-z_-]*", name) or name.startswith("on") or name == "autofocus":
                    found.append(f"<{tag} {name}=…>")
                if name in ("src", "href") and re.match(r"q$|javascript:|data:", value or ""):
                    found.append(f"<{tag} {name}={value}>")
        return found


@pytest.fixture(scope="module")
def pages(folder: Path) -> dict[str, Page]:
    return {path.relative_to(folder).as_posix(): Page(path.read_text("utf-8")) for path in folder.rglob("*.html")} | {
        "options": Page((folder / "_static" / "documentation_options.js").read_text("utf-8"))
    }


@pytest.fixture(scope="module")
def sought(folder: Path) -> str:
    return (folder / "search-data.js").read_text("utf-8")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("hostile")
    guide = place / "guide"
    texts = {
        "guide.yaml": COVER,
        "machine.yaml": MACHINE,
        "jobs/lid.yaml": JOB,
        "index.md": INDEX,
        "images/pic.svg": PICTURE,
    } | {f"../shared/{name}": text for name, text in SHARED.items()}
    for name, text in texts.items():
        path = guide / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    read = read_guide(guide)
    assert [fault.message for fault in read.faults] == []
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", message=".*myst_parser.*")
        built = build_manual(open_guide(read), ["html"], place / "out")
    return built.files[0].parent


def test_no_page_has_a_tag_or_an_attribute_that_an_author_wrote(pages: dict[str, Page]) -> None:
    assert {"index.html", "machine.html", "jobs/lid.html", "index-of-things.html", "search.html"} <= set(pages)
    assert {name: page.faults() for name, page in pages.items() if page.faults()} == {}


def test_what_an_author_wrote_is_there_as_text(pages: dict[str, Page]) -> None:
    job = pages["jobs/lid.html"]
    assert job.text.count(HOSTILE) > 20
    assert pages["machine.html"].text.count(HOSTILE) > 15
    assert any(attributes.get("alt") == HOSTILE for _, attributes in job.tags)
    assert any(
        (attributes.get("aria-label") or "").startswith(HOSTILE[:1].upper() + HOSTILE[1:]) for _, attributes in job.tags
    )


def test_what_an_author_wrote_is_text_in_the_data_of_a_job(pages: dict[str, Page]) -> None:
    job = pages["jobs/lid.html"]
    (written,) = job.data
    assert not set("<>&") & set(written)
    data = json.loads(written)
    words = " ".join(HOSTILE.split())
    assert data["name"] == data["description"] == words
    assert [part["name"] for part in data["step"]] == [words]
    assert [page.data for name, page in pages.items() if not name.startswith("jobs/") and page.data] == []


def test_what_an_author_wrote_is_text_in_the_data_of_the_search(sought: str) -> None:
    assert "<" not in sought
    data = json.loads(sought.removeprefix("window.PUTBACK_SEARCH=").removesuffix(";\n"))
    words = " ".join(HOSTILE.split())
    assert words in [title for _, title in data["pages"]]
    assert sum(words in f"{title} {text}" for *_, title, text, _ in data["passages"]) > 20


def test_attributes_are_escaped_once(pages: dict[str, Page]) -> None:
    for page in pages.values():
        for _, attributes in page.tags:
            for name, value in attributes.items():
                assert not re.search(r"&(amp|quot|#?\w+);", (value or "").replace("&lt;i&gt;", "")), (name, value)


def test_every_attribute_of_a_node_is_escaped_once(tmp_path: Path) -> None:
    """Most are ours; a catalogue of another language, or another extension, may say what it likes."""

    def add(app: Sphinx, document: nodes.document) -> None:
        del app
        step = own.step(number=HOSTILE, box=True)
        step += own.blank(label=HOSTILE, unit=HOSTILE)
        step += own.otherwise(label=HOSTILE)
        rows = [[HOSTILE, "☐", HOSTILE], [HOSTILE, HOSTILE, "short"]]
        document += own.steps("", step, own.step(number=HOSTILE))
        document += own.facts("", own.fact(label=HOSTILE))
        document += own.panel(signal=HOSTILE)
        document += table([HOSTILE, HOSTILE, HOSTILE], rows, (1, 1, 1))

    page = Page(built_page(tmp_path, add))
    assert page.faults() == []
    attributes = [(name, value or "") for _, found in page.tags for name, value in found.items()]
    assert {value for name, value in attributes if name == "data-label"} == {HOSTILE}
    named = [value for name, value in attributes if name == "aria-label"]
    assert {f"Step {HOSTILE} done", f"{HOSTILE} in {HOSTILE}, step {HOSTILE}"} <= set(named)
    assert f"{HOSTILE}: {HOSTILE.lower()}" in named
    # Two numbers, a label and a unit, a branch, a fact, three heads, four cells.
    assert page.text.count(HOSTILE) == 13


def built_page(place: Path, add: Callable[[Sphinx, nodes.document], None]) -> str:
    """Return a page to which nodes were added."""
    write(place, {"index.md": "# Start\n"})
    with patch_docutils(), docutils_namespace():
        conf = {"extensions": ["myst_parser", "putback.sphinxext"], "html_theme": "putback"}
        app = Sphinx(place, None, place / "out", place / "trees", "html", conf, status=None, warning=None)
        app.connect("doctree-read", add)
        app.build()
    return (place / "out" / "index.html").read_text("utf-8")


@pytest.mark.parametrize("language", ['en"><script>alert(1)</script>', "en'};alert(1)//", "en\\"])
def test_a_language_is_an_attribute_and_a_text(tmp_path: Path, language: str) -> None:
    (tmp_path / "index.rst").write_text("Start\n=====\n", "utf-8")
    with warnings.catch_warnings(), patch_docutils(), docutils_namespace():
        warnings.simplefilter("ignore")
        settings = {
            "extensions": ["putback.sphinxext"], "html_theme": "putback", "language": language, "release": language,
        }  # fmt: skip
        Sphinx(
            tmp_path, None, tmp_path / "out", tmp_path / "trees", "html", settings, status=None, warning=None
        ).build()
    for path in (tmp_path / "out").rglob("*.html"):
        page = Page(path.read_text("utf-8"))
        assert page.faults() == [], path.name
        assert dict(page.tags[0][1])["lang"] == language
    options = options_of((tmp_path / "out" / "_static" / "documentation_options.js").read_text("utf-8"))
    assert options["VERSION"] == options["LANGUAGE"] == language


def options_of(script: str) -> dict[str, object]:
    """Read the options of the search page; every value is one of JSON."""
    start, lines, end = re.fullmatch(r"(.*?\{\n)(.*)(\};\s*)", script, re.DOTALL).groups()  # type: ignore[union-attr]
    assert (start, end.strip()) == ("const DOCUMENTATION_OPTIONS = {\n", "};")
    return {key: json.loads(value) for key, value in re.findall(r"^    ([A-Z_]+): (.*),$", lines, re.MULTILINE)}


def test_the_options_of_the_search_page_are_those_of_sphinx() -> None:
    ours = (files("putback.sphinxext") / "theme" / "static" / "documentation_options.js.jinja").read_text("utf-8")
    theirs = (files("sphinx") / "themes" / "basic" / "static" / "documentation_options.js.jinja").read_text("utf-8")
    keys = re.compile(r"^ +([A-Z_]+):", re.MULTILINE)
    assert keys.findall(ours) == keys.findall(theirs)
