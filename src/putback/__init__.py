"""Putback: repair procedures that a stranger can follow safely."""

__version__ = "0.1.0"
