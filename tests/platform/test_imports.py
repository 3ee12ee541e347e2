"""The pure packages stay pure in what they import at run time, where a linter sees only what is written."""

import subprocess
import sys
import tomllib
from pathlib import Path

CHECKOUT = Path(__file__).parents[2]
RULES = tomllib.loads((CHECKOUT / "pyproject.toml").read_text())["tool"]["importlinter"]["contracts"]
PURE = next(rule for rule in RULES if rule["name"] == "The pure packages know no framework")["source_modules"]
FRAMEWORKS = {"django", "celery", "redis", "psycopg"}


def written(module: str) -> bool:
    path = CHECKOUT.joinpath(*module.split("."))
    return path.with_suffix(".py").exists() or (path / "__init__.py").exists()


def test_importing_every_pure_package_brings_in_no_framework() -> None:
    modules = [module for module in PURE if written(module)]
    assert modules
    script = f"import sys, {', '.join(modules)}; print(*sys.modules)"
    run = subprocess.run(
        [sys.executable, "-c", script], check=False, cwd=CHECKOUT, capture_output=True, text=True
    )
    assert run.returncode == 0, run.stderr
    assert FRAMEWORKS.isdisjoint(run.stdout.split())


def test_the_two_top_packages_are_empty() -> None:
    assert [(CHECKOUT / name / "__init__.py").read_bytes() for name in ("kits", "planning")] == [b"", b""]
