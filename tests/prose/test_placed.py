"""Which pages of a book show which table."""

from __future__ import annotations

import pytest

from putback.prose.placed import placed_on

TORQUES = "```{putback-torques}\n```\n"


def contents(*entries: str, fence: str = "```") -> str:
    listed = "\n".join(entries)
    return f"# Book\n\n{fence}{{toctree}}\n:hidden:\n\n{listed}\n{fence}\n"


@pytest.mark.parametrize(
    ("pages", "found"),
    [
        ({"index.md": TORQUES}, {"putback-torques": "index"}),
        ({"index.md": contents("b", "a"), "a.md": TORQUES, "b.md": TORQUES}, {"putback-torques": "b"}),
        ({"index.md": contents("Words <a>"), "a.md": TORQUES}, {"putback-torques": "a"}),
        ({"index.md": contents("part/*", fence=":::"), "part/a.md": TORQUES}, {"putback-torques": "part/a"}),
        ({"index.md": contents("a.md"), "a.md": contents("b"), "b.md": TORQUES}, {"putback-torques": "b"}),
        ({"index.md": "# Book\n", "a.md": TORQUES}, {}),
        ({"index.md": f"````text\n{TORQUES}````\n"}, {}),
        ({"index.md": f"::::{{note}}\n{TORQUES}::::\n"}, {"putback-torques": "index"}),
        ({"index.md": "`{putback-torques}`\n"}, {}),
        ({"index.md": "```{putback-torques}\n"}, {"putback-torques": "index"}),
        ({}, {}),
    ],
)
def test_a_directive_is_found_on_a_page_of_the_book_and_not_in_code(
    pages: dict[str, str], found: dict[str, str]
) -> None:
    assert placed_on(pages) == found
