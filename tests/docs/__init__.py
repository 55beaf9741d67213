"""The documentation: what it says is whole, and its examples run."""
