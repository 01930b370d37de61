"""The door: opened and closed by choice, on one address, and by itself when nobody is heard."""

import asyncio
import socket
import urllib.request

import pytest

from own_loop import run_to_end
from rushlight.errors import OutOfRange
from rushlight.web.desk import Desk
from rushlight.web.lan import is_private, private_addresses
from rushlight.web.network_door import Door
from rushlight.web.network_door_api import qr_rows

HERE = "127.0.0.2"
"""An address of this machine that is not the app's own: it stands for one in a local network."""


@pytest.fixture
def can_bind():
    with socket.socket() as trying:
        try:
            trying.bind((HERE, 0))
        except OSError:
            pytest.skip("this system has no second loopback address")


def answers(address: str) -> bool:
    host, port = address.split(":")
    try:
        socket.create_connection((host, int(port)), timeout=1).close()
    except OSError:
        return False
    return True


def page(address: str) -> str:
    with urllib.request.urlopen(f"http://{address}/", timeout=5) as answer:
        return answer.read().decode()


def test_it_opens_on_one_address_and_closes_again(folder, tmp_path, can_bind):
    async def whole() -> None:
        desk = Desk(tmp_path, design=False, spare=False)
        bench, door = await desk.open(folder), Door(desk, addresses=lambda: (HERE,))
        inside = await door.open(bench, HERE)
        assert "code" in await asyncio.to_thread(page, inside.address)
        assert not answers(inside.address.replace(HERE, "127.0.0.1"))  # not on every address
        second = await door.open(bench, HERE)
        assert not answers(inside.address)
        await door.close()
        assert door.inside is None and not answers(second.address)
        await desk.stop()

    run_to_end(whole())


def test_it_closes_by_itself(folder, tmp_path, can_bind):
    class Clock:
        now = 0.0

        def __call__(self) -> float:
            return self.now

    async def whole() -> None:
        desk, clock = Desk(tmp_path, design=False, spare=False), Clock()
        bench, door = await desk.open(folder), Door(desk, addresses=lambda: (HERE,), now=clock)
        inside = await door.open(bench, HERE)
        clock.now = 3599.99
        door._watch.cancel()  # not waited for in a test
        door._watch = asyncio.create_task(door._watching(inside))
        clock.now = 3601.0
        await asyncio.wait_for(door._watch, 20)
        assert door.inside is None and "by itself" in door.why_closed and not answers(inside.address)
        await desk.stop()

    run_to_end(whole())


@pytest.mark.parametrize("address", ["0.0.0.0", "127.0.0.1", "192.168.200.200", "", "::", "localhost"])
def test_only_its_own_private_addresses(folder, tmp_path, address):
    async def whole() -> None:
        desk = Desk(tmp_path, design=False, spare=False)
        bench, door = await desk.open(folder), Door(desk, addresses=lambda: (HERE,))
        with pytest.raises(OutOfRange):
            await door.open(bench, address)
        assert door.inside is None
        await desk.stop()

    run_to_end(whole())


@pytest.mark.parametrize(("address", "private"), [
    ("10.1.2.3", True), ("172.16.0.1", True), ("172.32.0.1", False), ("192.168.0.9", True), ("127.0.0.1", False), ("0.0.0.0", False),
    ("169.254.1.1", False), ("8.8.8.8", False), ("192.0.2.2", False), ("fd00::1", False), ("x", False),
])
def test_private_addresses_of_rfc_1918(address, private):
    assert is_private(address) == private


def test_the_machines_own_addresses_are_private_ones():
    assert all(is_private(address) for address in private_addresses())


def test_the_handle_is_on_this_computer_and_says_what_is_open(client, desk):
    told = client.get("/api/door").json()
    assert told["open"] is False and "code" not in told
    answer = client.post(f"/api/plans/{client.plan}/door", json={"address": "0.0.0.0"})
    assert answer.status_code == 422
    assert client.post("/api/door/code", json={}).status_code == 422
    assert client.post("/api/door/close", json={}).json()["open"] is False


def test_qr_symbol():
    """ISO/IEC 18004: three finder patterns of 7 modules, a quadratic symbol of 21 + 4 k modules."""
    rows = qr_rows("http://192.168.100.100:65535/#123456")
    size = len(rows)
    assert {len(row) for row in rows} == {size} and (size - 21) % 4 == 0 and set("".join(rows)) == {"0", "1"}
    assert rows[0][:7] == rows[6][:7] == "1111111" == rows[0][-7:] == rows[-1][:7]
