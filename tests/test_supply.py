"""What Putback brings along and what it needs: each has a licence that lets anybody use it, and says so."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import Distribution, distribution
from typing import Any

import pytest
from packaging.requirements import Requirement

from tests.pasted import ROOT

PROJECT: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))

PERMISSIVE = {
    "0BSD", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0", "MIT", "MIT-CMU", "PSF-2.0",
    "Apache Software License", "BSD License", "MIT License",
}  # fmt: skip
"""Names of SPDX, and those of the classifiers of PyPI."""

WITH_A_REASON = {
    "certifi": "MPL-2.0; a list of certificates that Sphinx uses to ask other sites; used as it is, never changed",
    "docutils": "in the public domain, with parts under BSD; one file, a mode of Emacs under GPL, is not installed",
    "font-source-sans-pro": "OFL-1.1, a licence for fonts; the PDF and the pages take their letters from it",
}
"""Packages whose licence is not one of those, and why they may be needed all the same."""

BINARY = {".woff2", ".png", ".jpg", ".ttf", ".otf"}
"""Files that nobody writes by hand."""


def needed(dist: Distribution) -> list[str]:
    asked = map(Requirement, dist.requires or [])
    return [each.name for each in asked if each.marker is None or each.marker.evaluate({"extra": ""})]


def installed() -> dict[str, Distribution]:
    """Return what is needed to run Putback, and what that needs, by name."""
    found: dict[str, Distribution] = {}
    waiting = [Requirement(each).name for each in PROJECT["project"]["dependencies"]]
    while waiting:
        dist = distribution(waiting.pop())
        name = re.sub(r"[-_.]+", "-", dist.metadata["Name"]).lower()
        if name not in found:
            found[name] = dist
            waiting += needed(dist)
    return found


def licences(dist: Distribution) -> set[str]:
    """Return the licences that a package says it has, by the first of: expression, classifiers, plain words."""
    said = dist.metadata
    if "License-Expression" in said:
        return set(re.split(r" (?:AND|OR) ", said["License-Expression"].replace("(", "").replace(")", "")))
    listed = [each.split(" :: ") for each in said.get_all("Classifier") or []]
    classified = {each[-1] for each in listed if each[0] == "License" and len(each) > 1}
    return classified or set(said.get_all("License") or ["none"])


def test_all_that_putback_needs_has_a_permissive_licence() -> None:
    found = installed()
    assert {"sphinx", "typst", "ruamel-yaml", "markupsafe"} <= set(found)
    others = {name: licences(dist) for name, dist in found.items() if not licences(dist) <= PERMISSIVE}
    assert set(others) == set(WITH_A_REASON), others


@pytest.mark.parametrize(
    ("said", "good"),
    [
        ("License-Expression: MIT AND Apache-2.0", True),
        ("License-Expression: MIT AND LGPL-3.0-only", False),
        ("Classifier: License :: OSI Approved :: GNU General Public License (GPL)", False),
        ("Classifier: Topic :: Documentation\nLicense: MIT", True),
        ("Summary: no word of it", False),
    ],
)
def test_licences_are_read_as_packages_say_them(said: str, good: bool) -> None:
    class Said(Distribution):
        def read_text(self, filename: str) -> str | None:
            return f"Metadata-Version: 2.4\nName: it\n{said}\n" if filename == "METADATA" else None

        def locate_file(self, path: object) -> Any:
            raise FileNotFoundError(path)

    assert (licences(Said()) <= PERMISSIVE) is good


def test_what_is_bundled_has_its_licence_beside_it() -> None:
    """Only the fonts are not ours, and nobody can write them by hand: whatever looks like them needs a licence."""
    listed = {ROOT / path for path in PROJECT["project"]["license-files"]}
    assert all(path.is_file() for path in listed)
    homes = {path.parent for path in listed}
    packed = [path for folder in ("src/putback", "schema", "shared") for path in (ROOT / folder).rglob("*")]
    bundled = {path for path in packed if path.suffix in BINARY}
    assert {path.parent.name for path in bundled} == {"fonts"}
    assert {path.parent for path in bundled} <= homes


def test_what_is_bundled_is_written_as_text_by_its_authors() -> None:
    """No file of another project was copied in: none of ours has a notice in it."""
    notice = re.compile(
        r"copyright (\(c\)|©) *\d{4}|SPDX-License-Identifier|all rights reserved|@license\b", re.IGNORECASE
    )
    own = [path for folder in ("src/putback", "schema", "shared") for path in (ROOT / folder).rglob("*.*")]
    noticed = {
        path.name
        for path in own
        if path.is_file() and path.suffix not in {*BINARY, ".pyc"} and notice.search(path.read_text(encoding="utf-8"))
    }
    assert noticed == {"OFL.txt"}, noticed


def test_the_expression_of_the_project_names_each_licence_that_is_packed() -> None:
    assert PROJECT["project"]["license"] == "MIT AND OFL-1.1"
    texts = [(ROOT / path).read_text(encoding="utf-8") for path in PROJECT["project"]["license-files"]]
    assert ["MIT License" in text or "Permission is hereby granted" in text for text in texts] == [True, True]
    assert ["SIL OPEN FONT LICENSE Version 1.1" in text for text in texts] == [False, True]
