"""The fault seeder: single faults of each kind put into good guides, every one of which must be found."""
