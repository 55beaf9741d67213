"""A guide in another language, on pages: its author's words are all translated, and a translation stays text."""

from __future__ import annotations

import html
import re
from pathlib import Path

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext.manual import build_manual
from putback.translation.guide import translated
from putback.translation.state import wordings_of
from putback.translation.wording import WORDS
from tests.conftest import Write
from tests.sphinxext import projects
from tests.translation.pseudo import TAG, marked, with_marks

HOSTILE = "</p><script>alert(one)</script><img src=q onerror=alert(two)> {raw}`x` *a* `b`"
LOOK = "job: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n"
MACHINE = "machine: Pump\nparts: {lid: {name: big lid}}\n"


def pages_of(folder: Path) -> dict[str, str]:
    """Return what each page of HTML holds, without scripts and styles."""
    found = {}
    for path in sorted(folder.rglob("*.html")):
        page = path.read_text(encoding="utf-8")
        found[path.name] = re.sub(r"<(script|style)\b.*?</\1>", "", page, flags=re.DOTALL)
    return found


def words_of(page: str) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]+>", "", page)).split())


def test_no_text_of_an_author_is_left_in_the_authors_language(tmp_path: Path) -> None:
    guide = with_marks(read_guide(Path("procedures/sessel-w15")))
    build_manual(open_guide(translated(guide, TAG)), ["html"], tmp_path)
    pages = {name: words_of(page) for name, page in pages_of(tmp_path / "html").items()}
    keys = [key.text for key in wordings_of(guide) if key.context == WORDS]
    plain = re.compile(r"[^{}`*\[\]]{9,}")
    looked_for = [
        key.text
        for key in wordings_of(guide)
        if plain.fullmatch(key.text) and key.text != marked(key.text) and not any(key.text in each for each in keys)
    ]
    assert len(looked_for) > 150
    left = [(text, name) for text in looked_for for name, page in pages.items() if text in page]
    assert left == []
    assert marked("Chock the trailer.") in pages["using.html"]


def test_a_translation_stays_text(write_guide: Write, tmp_path: Path) -> None:
    entries = {
        ("jobs.look.inspect-lid.note", "Look for cracks."): HOSTILE,
        ("machine.things.lid.name", "big lid"): HOSTILE,
        ("pages.index", "Wipe it."): "<b onclick=alert(3)>Wischen</b>",
        ("pages.index", "Dry it."): "[trocknen](javascript:alert(4))",
        ("pages.index", "Oil it."): "{raw}`<i>` ölen",
    }
    catalogue = "\n".join(
        f'msgctxt "{context}"\nmsgid "{text}"\nmsgstr "{told}"\n' for (context, text), told in entries.items()
    )
    root = write_guide(
        {
            "pump/machine.yaml": MACHINE,
            "pump/jobs/look.yaml": LOOK,
            "pump/index.md": "# Pump\n\nWipe it.\n\nDry it.\n\nOil it.\n\n```{toctree}\nmachine\njobs/look\n```\n",
            "pump/translations/de.po": catalogue,
        }
    )
    build_manual(open_guide(translated(read_guide(root), "de")), ["html"], tmp_path / "out")
    pages = pages_of(tmp_path / "out" / "html")
    assert "alert(one)" in words_of(pages["look.html"])
    for page in pages.values():
        tags = re.findall(r"<[a-zA-Z][^>]*>", page)
        assert not [tag for tag in tags if "alert" in re.sub(r'"[^"]*"', "", tag) or "javascript:" in tag]
    for text in ("Wipe it.", "Dry it.", "Oil it."):
        assert text in words_of(pages["index.html"])


def test_a_project_s_guide_in_german_has_the_library_s_safety_messages_in_german(tmp_path: Path) -> None:
    job = "job: Deckel ansehen\nsteps:\n  - caution: hot-coolant\n  - inspect: lid\n    text: Riss\n"
    machine = "machine: Pumpe\nparts: {lid: {name: Deckel}}\n"
    page = "Pumpe\n=====\n\n.. toctree::\n\n   machine\n   jobs/look\n"
    files = {"guide.yaml": "title: Pumpe\nlanguage: de\n", "machine.yaml": machine, "jobs/look.yaml": job}
    projects.write(tmp_path, {**files, "index.rst": page})
    projects.build(tmp_path, language="de", putback_lint=False)
    text = (tmp_path / "_build/html/jobs/look.html").read_text(encoding="utf-8")
    assert "Das Kühlmittel ist heiß" in text
    assert "Coolant" not in text
