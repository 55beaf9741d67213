"""The checks of this package on their examples."""

import pytest

from putback.testing import assert_example, assert_examples, checks_of


@pytest.mark.parametrize("check", checks_of("quayside-rules"))
def test_the_examples_of_a_check_hold(check: str) -> None:
    assert_examples(check)


BOTH = """
job: Look at the guard
^^^ this job has no time
steps:
  - clean: belt-gard
           ^^^^^^^^^ [unknown-name] nothing is called 'belt-gard'
"""


def test_a_case_with_a_finding_of_another_check() -> None:
    assert_example(BOTH, "no-time")
