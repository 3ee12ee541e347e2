"""The web server as this program starts it by itself; a larger installation starts gunicorn its own way."""

from typing import Any

from gunicorn.app.base import BaseApplication
from gunicorn.glogging import Logger

from planning.logs import OneLine

PROCESSES, THREADS = 2, 4


class Log(Logger):  # type: ignore[misc]
    """Gunicorn's log in the form of the program's own."""

    def setup(self, cfg: Any) -> None:
        """Write each record as one line of JSON."""
        super().setup(cfg)
        for handler in self.error_log.handlers:
            handler.setFormatter(OneLine())

    def exception(self, msg: str, *args: object, **kwargs: Any) -> None:
        """Say what went wrong without the request's text, which may hold what somebody searched for."""
        self.error_log.error(msg.partition("%")[0].strip(), exc_info=True)


class Server(BaseApplication):  # type: ignore[misc]
    """Gunicorn with the app, in this process."""

    def __init__(self, host: str, port: int) -> None:
        self.bind = f"{host}:{port}"
        super().__init__()

    def load_config(self) -> None:
        """Set what differs from gunicorn's own choices."""
        chosen = {
            "bind": self.bind,
            "worker_class": "gthread",
            "workers": PROCESSES,
            "threads": THREADS,
            "timeout": 120,  # a large month file takes its time to be checked
            "graceful_timeout": 5,
            "loglevel": "warning",
            "logger_class": Log,
            "proc_name": "kits",
        }
        for name, value in chosen.items():
            self.cfg.set(name, value)

    def load(self) -> Any:
        """Return the app."""
        from planning.wsgi import application

        return application
