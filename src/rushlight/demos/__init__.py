"""Invented plans to learn from, and the script that draws their pictures."""
