"""One file for each drawing or table."""
