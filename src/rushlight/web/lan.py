"""Addresses of this computer in its own networks, by the standard library alone."""

from __future__ import annotations

import ipaddress
import socket
import struct
import sys
from collections.abc import Iterator

PRIVATE = tuple(ipaddress.ip_network(text) for text in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16"))
"""RFC 1918."""

ASK = {"linux": 0x8915, "darwin": 0xC0206921}
"""SIOCGIFADDR: ioctl that asks an interface for its address (Linux sockios.h; macOS sys/sockio.h)."""

ELSEWHERE = ("10.255.255.255", 9)
"""A private address; connecting a datagram socket to it sends nothing, it only picks the way out."""


def private_addresses() -> tuple[str, ...]:
    """This computer's own private IPv4 addresses, the one of the way out first; empty without a network.

    Source
    ------
    RFC 1918 (private networks).
    """
    found = dict.fromkeys((*_way_out(), *_of_interfaces(), *_of_name()))
    return tuple(address for address in found if is_private(address))


def is_private(address: str) -> bool:
    """Whether an address belongs to a private network; loopback and link-local ones do not."""
    try:
        return any(ipaddress.IPv4Address(address) in network for network in PRIVATE)
    except ValueError:
        return False


def _way_out() -> Iterator[str]:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect(ELSEWHERE)
            yield asking.getsockname()[0]
        except OSError:
            return


def _of_interfaces() -> Iterator[str]:
    """Each interface asked for its address; not possible on Windows, where the name gives them all."""
    if sys.platform == "win32" or sys.platform not in ASK:
        return
    import fcntl

    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        for _, name in socket.if_nameindex():
            try:
                told = fcntl.ioctl(asking.fileno(), ASK[sys.platform], struct.pack("256s", name.encode()[:15]))
            except OSError:
                continue
            yield socket.inet_ntoa(told[20:24])


def _of_name() -> Iterator[str]:
    try:
        for row in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET):
            yield str(row[4][0])
    except OSError:
        return
