"""Text to a tree with places: files as data, shapes, what a refusal says, and what a finding is."""
