"""Inputs that no author should write, a table a kind: what is written, the place pointed at, and what is said."""
