"""Every command, option, check, verb and key is reachable: from the general index, and by the search.

The documentation is built once for all of these; `PUTBACK_DOCS` names a folder where it has been built already.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from html import unescape
from pathlib import Path
from typing import Any

import click
import pytest

from putback.checks import own_checks
from putback.cli import cli
from putback.model.verbs import VERBS
from putback.source.keys import THINGS, keys_of, owners

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"

_LINK = re.compile(r'<a href="([^"]*#[^"]*)">([^<]*)</a>')
_SEVERAL = re.compile(r"<li>(?:<a [^>]*>)?([^<]+?)(?:</a>)?(?:, <a [^>]*>[^<]*</a>)*\s*<ul>(.*?)</ul>", re.DOTALL)


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The documentation as HTML."""
    if built := os.environ.get("PUTBACK_DOCS"):
        return Path(built)
    place = tmp_path_factory.mktemp("site")
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    build = [sys.executable, "-m", "sphinx", "-q", "-E", str(DOCS), str(place)]
    subprocess.run(build, check=True, env=environment, cwd=ROOT)
    return place


@pytest.fixture(scope="session")
def index(site: Path) -> dict[str, str]:
    """The general index: the address of each entry, by its words; `check-x (check)` and the like."""
    text = (site / "genindex.html").read_text(encoding="utf-8").partition("<main")[2]
    places: dict[str, str] = {words: address for address, words in _LINK.findall(text)}
    for name, several in _SEVERAL.findall(text):
        plain = name.partition(" (")[0]
        places |= {f"{plain} {words}": address for address, words in _LINK.findall(several)}
    return {unescape(words): unescape(address) for words, address in places.items()}


@pytest.fixture(scope="session")
def found(site: Path) -> dict[str, tuple[str, str]]:
    """What the search finds by name: kind and name of each word, by its address."""
    text = (site / "search-data.js").read_text(encoding="utf-8")
    data: dict[str, Any] = json.loads(text.removeprefix("window.PUTBACK_SEARCH=").removesuffix(";\n"))
    kinds = {"check", "command", "option", "verb", "key"}
    return {
        f"{data['pages'][page][0]}#{anchor}": (kind, title)
        for page, anchor, _, title, said, _ in data["passages"]
        if (kind := said.partition(" ")[0]) in kinds
    }


def commands() -> dict[str, click.Command]:
    root = click.Context(cli)
    return {name: command for name in cli.list_commands(root) if (command := cli.get_command(root, name)) is not None}


def words() -> list[tuple[str, str, str]]:
    """Return each word of the language: its kind, its name, and what the index calls it."""
    options = [
        (max(option.opts, key=len), name)
        for name, command in commands().items()
        for option in command.params
        if isinstance(option, click.Option)
    ]
    shared = keys_of("thing")
    keys = {
        (key, "every thing of the machine" if kind in THINGS and key in shared else owner.called)
        for kind, owner in owners().items()
        for key in keys_of(kind)
        if key != kind
    }
    return [
        *(("check", name, f"{name} (check)") for name in own_checks()),
        *(("command", f"putback {name}", f"putback {name} (command)") for name in commands()),
        *(("verb", name, f"{name} (verb)") for name in VERBS),
        *(("key", name, f"{name} (key of {owner})") for name, owner in sorted(keys)),
        *(("option", name, f"{name} (option of putback {command})") for name, command in options),
    ]


@pytest.mark.parametrize("kind", ["check", "command", "option", "verb", "key"])
def test_every_word_of_the_language_is_in_the_index_and_in_the_search(
    kind: str, site: Path, index: dict[str, str], found: dict[str, tuple[str, str]]
) -> None:
    known = [(name, entry) for other, name, entry in words() if other == kind]
    assert known
    assert [entry for _, entry in known if entry not in index] == []
    for name, entry in known:
        assert found[index[entry]][0] == kind, entry
        assert re.split(r"[ .](?=\S+$)", found[index[entry]][1])[-1] in (name, name.split()[-1]), entry
        page, _, anchor = index[entry].partition("#")
        assert f'id="{anchor}"' in (site / page).read_text(encoding="utf-8"), entry


def test_every_page_leads_to_the_index(site: Path) -> None:
    for page in site.rglob("*.html"):
        assert re.search(r'class="to-index" href="([^"]*genindex\.html|#)"', page.read_text(encoding="utf-8")), page


def test_every_term_of_the_glossary_is_in_the_index(index: dict[str, str]) -> None:
    terms = {words for words, address in index.items() if address.startswith("reference/glossary.html#term-")}
    glossary = (DOCS / "reference" / "glossary.md").read_text(encoding="utf-8").partition(":sorted:\n")[2]
    assert terms == set(re.findall(r"^(\w.*)$", glossary.partition("\n```")[0], re.MULTILINE))


def test_every_command_and_group_of_checks_has_its_place(site: Path) -> None:
    page = (DOCS / "reference" / "commands.md").read_text(encoding="utf-8")
    assert re.findall(r"^```\{putback-command\} (\w+)$", page, re.MULTILINE) == list(commands())
    catalogue = (site / "checks" / "index.html").read_text(encoding="utf-8")
    for name, check in own_checks().items():
        assert catalogue.count(f'href="{name}.html"') >= 2, name
        assert f'href="index.html#checks-{check.group.name.lower()}"' in (site / "checks" / f"{name}.html").read_text(
            encoding="utf-8"
        )
