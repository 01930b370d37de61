"""What subjects of each kind must show, one file a kind."""
