"""One pure step on its own: its question as JSON in, its answer as JSON out."""

import json
import sys
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandParser
from pydantic import TypeAdapter, ValidationError

from planning.singles import SINGLES

BAD_INPUT = 2


class Command(BaseCommand):
    """Take one step. Nothing is looked up and nothing is kept."""

    help = "Take one step of the planning: read its question as JSON from stdin, write its answer to stdout."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Say what the command line may hold."""
        parser.add_argument("name", choices=SINGLES, metavar="NAME", help=f"one of {', '.join(SINGLES)}")
        parser.add_argument(
            "--schema", action="store_true", help="print the JSON Schema of question and answer instead"
        )

    def handle(self, *, name: str, schema: bool, **options: Any) -> None:
        """Print the answer, or the schema of both sides."""
        step = SINGLES[name]
        if schema:
            sides = {
                "problem": step.problem.json_schema(),
                "result": step.result.json_schema(mode="serialization"),
            }
            self.stdout.write(json.dumps(sides, indent=2, ensure_ascii=False))
            return
        problem = self.read(step.problem, sys.stdin.buffer.read())
        try:
            result = step.take(problem)
        except ValueError as error:  # every step's own errors are; their messages are for people
            self.refuse([str(error)])
        self.stdout.write(step.result.dump_json(result, indent=2).decode())

    def read(self, problem: TypeAdapter[Any], text: bytes) -> Any:
        """Read a question; everything that is wrong with it is told."""
        try:
            return problem.validate_json(text, extra="forbid")
        except ValidationError as error:
            self.refuse([in_words(each) for each in error.errors(include_url=False)])

    def refuse(self, said: list[str]) -> NoReturn:
        """Say each thing on a line of its own and end."""
        for each in said:
            self.stderr.write(each)
        sys.exit(BAD_INPUT)


def in_words(error: Any) -> str:
    """Return where in the JSON something is wrong, and what."""
    place = ".".join(str(part) for part in error["loc"]) or "the JSON"
    return f"{place}: {error['msg'].removeprefix('Value error, ')}"
