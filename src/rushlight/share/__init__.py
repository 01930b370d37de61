"""One self-contained page that shows a build to others."""
