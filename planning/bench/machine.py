"""The machine a bench ran on, in one line."""

import os
import platform
import re
from pathlib import Path

from django.db import connection


def machine() -> str:
    """Name processor, cores, memory, system, Python and database."""
    memory = int(_found(Path("/proc/meminfo"), r"^MemTotal:\s*(\d+)") or 0) // 1024**2
    parts = (
        _found(Path("/proc/cpuinfo"), r"^model name\s*:\s*(.+)$") or platform.machine(),
        f"{os.cpu_count()} cores",
        f"{memory} GiB",
        f"{platform.system()} {platform.release().partition('-')[0]}",
        f"Python {platform.python_version()}",
        _database(),
    )
    return ", ".join(parts)


def _database() -> str:
    connection.ensure_connection()
    if connection.vendor == "postgresql":
        return f"PostgreSQL {connection.pg_version // 10_000}"  # type: ignore[attr-defined]
    return "SQLite"


def _found(path: Path, pattern: str) -> str:
    try:
        match = re.search(pattern, path.read_text(), re.MULTILINE)
    except OSError:
        return ""
    return match[1].strip() if match else ""
