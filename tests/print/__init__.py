"""What must be so of every page that is printed, whatever the guide."""
