"""Laws of rhythm and dimming."""
