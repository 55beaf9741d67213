"""What must be so of every page that is printed, whatever the guide."""

GUIDES = ("hollin-20", "ambry-g5", "tarrick-d2", "sessel-w15", "every key")
"""What the laws are tried on: the shipped guides, and one that uses every key."""
