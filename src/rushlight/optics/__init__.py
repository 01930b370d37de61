"""Laws of light: numbers in, numbers out."""
