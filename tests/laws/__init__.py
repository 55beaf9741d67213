"""What the laws are tried on: random machines and jobs, and an oracle that walks one variant alone."""
