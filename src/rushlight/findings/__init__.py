"""What would go wrong: one file for each kind of finding."""
