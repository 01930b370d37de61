"""Laws of circuits: numbers in, numbers out."""
