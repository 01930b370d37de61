"""Frozen values, and nothing else."""
