"""rushlight: plan, check and build the lighting of a scale model before it is closed for good."""

__version__ = "0.1.0"
