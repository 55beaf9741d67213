"""What other packages bring, and how it is said that something in it is wrong."""

from __future__ import annotations


class BadCheckError(Exception):
    """A check that cannot be used, or that failed; the message says which one, of which package, and what is wrong."""
