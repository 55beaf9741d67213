"""How heavy the pages of jobs are: each with its own data, which nothing but this page loads."""

from __future__ import annotations

import pytest

from tests.print import GUIDES
from tests.print.printed_pages import Printed

HEAVIEST = 400_000
"""Bytes that a page of a job may have, with its data: a tablet on a toolbox opens it from a card."""


@pytest.mark.parametrize("guide", GUIDES)
def test_a_page_of_a_job_is_light_with_its_data(manuals: dict[str, Printed], guide: str) -> None:
    pages = sorted((manuals[guide].html / "jobs").glob("*.html"))
    assert pages
    weights = {page.name: sum(each.stat().st_size for each in page.parent.glob(f"{page.stem}.*")) for page in pages}
    assert {name: weight for name, weight in weights.items() if weight > HEAVIEST} == {}
