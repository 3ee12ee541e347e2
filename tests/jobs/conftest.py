"""What tests of faults need to start servers of their own, several times over."""

import os
import signal
import socket
from collections.abc import Callable

import pytest


@pytest.fixture(scope="session")
def ports() -> Callable[[], int]:
    """Return port(): one of this machine that nobody listens on."""

    def port() -> int:
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            free: int = probe.getsockname()[1]
            return free

    return port


@pytest.fixture(scope="session")
def held(need: Callable[..., str]) -> Callable[..., list[str]]:
    """Return held(signal, user): the words before a command that end it together with its tests."""
    setpriv = need("setpriv", "it ends a server together with its tests")

    def words(stop: signal.Signals, user: str = "") -> list[str]:
        other = [f"--reuid={user}", f"--regid={user}", "--init-groups"] if user and os.geteuid() == 0 else []
        return [setpriv, *other, f"--pdeathsig={stop.name.removeprefix('SIG')}"]

    return words
