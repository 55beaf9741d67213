"""Every hint obeyed by a machine: what it says is done to the file, and the file is checked again."""
