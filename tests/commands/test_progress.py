"""How far a run is: one changing line for a person, plain lines for a log."""

from planning.progress import CLEAR, Progress


class Stream:
    """What a command's stderr does, watched by a person or not."""

    def __init__(self, *, watched: bool) -> None:
        self.watched = watched
        self.text = ""

    def isatty(self) -> bool:
        return self.watched

    def write(self, msg: str, *, ending: str | None = None) -> None:
        self.text += msg + ("\n" if ending is None else ending)

    def flush(self) -> None:
        pass


def run(stream: Stream) -> str:
    with Progress(stream) as progress:
        progress.stage("cutting")
        progress.stage("papers")
        progress.count(1, 2_000)
    return stream.text


def test_a_person_sees_one_line_that_is_gone_in_the_end() -> None:
    lines = ("cutting ...", "papers ...", "papers 1 of 2,000 ...", "")
    assert run(Stream(watched=True)) == "".join(f"{CLEAR}{line}" for line in lines)


def test_a_log_gets_each_stage_once() -> None:
    assert run(Stream(watched=False)) == "cutting ...\npapers ...\n"
