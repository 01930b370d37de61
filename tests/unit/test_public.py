"""The package's public calls."""

from __future__ import annotations

import pytest

import rushlight


def test_every_public_call_is_there() -> None:
    for name in rushlight.__all__:
        assert getattr(rushlight, name) is not None


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'desing'"):
        rushlight.desing  # noqa: B018
