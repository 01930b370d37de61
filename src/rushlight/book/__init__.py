"""The book: sheets typeset for the bench."""
