"""What a check is, where checks are found, and what is said of one that is not as it must be."""
