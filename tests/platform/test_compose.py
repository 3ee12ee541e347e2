"""docker-compose.yml is whole, keeps what must be kept, holds no secret, and its commands run."""

import json
import os
import re
import shlex
import subprocess
import sys
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Any

import pytest

from planning.settings import VARIABLES
from tests.support.effort import thorough

CHECKOUT = Path(__file__).parents[2]
NEEDED = {
    "KITS_SECRET_KEY": "9-walnut-kettle-" * 4,
    "KITS_ALLOWED_HOSTS": "a.example",
    "POSTGRES_PASSWORD": "p4",
}
PYTHON = {**os.environ, "PATH": os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])}


@pytest.fixture(scope="module")
def composed(need: Callable[[str, str], str]) -> dict[str, Any]:
    """Return the file as data, anchors and merges resolved."""
    yq = need("yq", "docker-compose.yml is read by Debian's yq, which prints JSON")
    read = subprocess.run([yq, ".", "docker-compose.yml"], cwd=CHECKOUT, check=True, capture_output=True)
    found: dict[str, Any] = json.loads(read.stdout)
    return found


@pytest.fixture(scope="module")
def services(composed: dict[str, Any]) -> dict[str, dict[str, Any]]:
    found: dict[str, dict[str, Any]] = composed["services"]
    assert set(found) == {"web", "worker", "postgres", "redis"}
    return found


def test_every_service_is_watched_limited_and_guarded(services: dict[str, dict[str, Any]]) -> None:
    for service in services.values():
        assert service["healthcheck"]["test"][0] in {"CMD", "CMD-SHELL"}
        assert set(service["deploy"]["resources"]["limits"]) == {"cpus", "memory"}
        assert service["cap_drop"] == ["ALL"]
        assert service["security_opt"] == ["no-new-privileges:true"]
        assert service["restart"] == "unless-stopped"


def test_no_service_runs_as_root(services: dict[str, dict[str, Any]]) -> None:
    for service in services.values():
        inline = service.get("build", {}).get("dockerfile_inline", "")
        users = re.findall(r"^USER (\w+)$", inline, re.MULTILINE) or [service["user"]]
        assert users[-1] not in {"root", "0"}


def test_what_every_service_keeps_lies_in_a_named_volume(
    composed: dict[str, Any], services: dict[str, dict[str, Any]]
) -> None:
    kept = {name: [mount.split(":")[0] for mount in service["volumes"]] for name, service in services.items()}
    assert kept == {"web": ["documents"], "worker": ["documents"], "postgres": ["rows"], "redis": ["queue"]}
    assert set(composed["volumes"]) == {"documents", "rows", "queue"}


def test_a_service_starts_once_what_it_needs_is_healthy(services: dict[str, dict[str, Any]]) -> None:
    waits = {name: service.get("depends_on", {}) for name, service in services.items()}
    assert {name: set(others) for name, others in waits.items()} == {
        "web": {"postgres", "redis"},
        "worker": {"web", "redis"},
        "postgres": set(),
        "redis": set(),
    }
    assert {how["condition"] for others in waits.values() for how in others.values()} == {"service_healthy"}


def test_only_the_web_is_reached_and_only_from_this_machine(services: dict[str, dict[str, Any]]) -> None:
    assert {name: service.get("ports") for name, service in services.items()} == {
        "web": ["127.0.0.1:8000:8000"],
        "worker": None,
        "postgres": None,
        "redis": None,
    }


def test_a_secret_is_asked_for_and_never_written_down(services: dict[str, dict[str, Any]]) -> None:
    text = (CHECKOUT / "docker-compose.yml").read_text()
    assert set(re.findall(r"\$\{(\w+):\?", text)) == set(NEEDED)
    for service in services.values():
        for name, value in service.get("environment", {}).items():
            assert not re.search("KEY|PASSWORD", name) or value is None or value.startswith(f"${{{name}:?")


def test_the_image_is_built_from_what_is_in_the_checkout(services: dict[str, dict[str, Any]]) -> None:
    inline = services["web"]["build"]["dockerfile_inline"]
    assert "$" not in inline  # Compose would put a variable's value in its place
    copied = re.findall(r"^COPY (\S+) \S+$", inline, re.MULTILINE)
    assert copied == [".requirements/run.txt", "manage.py", "kits", "planning", "templates"]
    assert all((CHECKOUT / name).exists() for name in copied)


def told(service: dict[str, Any], **instead: str) -> dict[str, str]:
    """Return the environment of a service as Compose would fill it in, then with some of it replaced."""
    words = {name: filled(value) for name, value in service["environment"].items() if value is not None}
    assert {name for name in words if name.startswith("KITS_")} <= set(VARIABLES)
    return words | instead


def filled(text: str) -> str:
    def value(match: re.Match[str]) -> str:
        name, otherwise = match.groups()
        return NEEDED.get(name) or otherwise.removeprefix("-")

    return re.sub(r"\$\{(\w+):(\?[^}]*|-[^}]*)\}", value, text)


@thorough
def test_its_settings_pass_djangos_deployment_check(
    services: dict[str, dict[str, Any]], tmp_path: Path
) -> None:
    environment = PYTHON | told(services["web"], KITS_DATA_DIR=str(tmp_path))
    check = [sys.executable, "manage.py", "check", "--deploy", "--fail-level=WARNING"]
    subprocess.run(check, cwd=CHECKOUT, env=environment, check=True, capture_output=True)


@thorough
def test_the_web_command_migrates_and_serves_until_its_health_check_passes(
    services: dict[str, dict[str, Any]],
    postgres_database: str,
    tmp_path: Path,
    free_port: int,
    alongside: Callable[..., AbstractContextManager[subprocess.Popen[bytes]]],
) -> None:
    web = services["web"]
    here = told(web, DATABASE_URL=postgres_database, KITS_DATA_DIR=str(tmp_path), PATH=PYTHON["PATH"])
    command = [word.replace(":8000", f":{free_port}") for word in web["command"]]
    check = [word.replace(":8000", f":{free_port}") for word in web["healthcheck"]["test"][1:]]

    def healthy() -> bool:
        return subprocess.run(check, env=PYTHON, check=False, capture_output=True).returncode == 0

    with alongside(command, healthy, **here) as server:
        pass
    assert server.returncode == 0, (tmp_path / "server.log").read_text()


def test_the_worker_is_started_and_asked_by_the_name_of_its_application(
    services: dict[str, dict[str, Any]],
) -> None:
    # test_celery.py runs these words.
    worker = services["worker"]
    assert worker["command"][:4] == ["celery", "-A", "planning.celery", "worker"]
    (asked,) = worker["healthcheck"]["test"][1:]
    assert shlex.split(asked)[:5] == ["celery", "-A", "planning.celery", "inspect", "ping"]


def has_compose() -> bool:
    try:
        return (
            subprocess.run(["docker", "compose", "version"], check=False, capture_output=True).returncode == 0
        )
    except FileNotFoundError:
        return False


@pytest.mark.skipif(not has_compose(), reason="Docker's compose plugin is not installed")
def test_compose_itself_takes_the_file_and_stops_without_the_secrets() -> None:
    config = ["docker", "compose", "config", "--quiet"]
    subprocess.run(config, cwd=CHECKOUT, env=PYTHON | NEEDED, check=True)
    bare = {name: value for name, value in PYTHON.items() if name not in NEEDED}
    refused = subprocess.run(config, cwd=CHECKOUT, env=bare, check=False, capture_output=True, text=True)
    assert refused.returncode != 0
    assert "set it to" in refused.stderr
