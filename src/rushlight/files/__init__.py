"""The only reader and writer of the user's disk."""
