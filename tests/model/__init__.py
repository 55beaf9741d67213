"""Records made from files."""
