"""Laws of heat: numbers in, numbers out."""
