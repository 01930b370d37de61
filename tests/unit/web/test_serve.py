"""The port that the app listens on."""

import socket

import pytest

from rushlight.errors import MissingTool
from rushlight.web.serve import HOST, _listening


def test_a_caller_may_come_at_once_and_only_from_this_computer():
    with _listening(0) as listening:
        assert listening.getsockname()[0] == HOST == "127.0.0.1"
        socket.create_connection(listening.getsockname(), timeout=5).close()


def test_a_taken_port_is_said_with_its_cure():
    with _listening(0) as first, pytest.raises(MissingTool, match="--port"):
        _listening(first.getsockname()[1])
