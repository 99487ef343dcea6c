"""A depot's web server for the tests: plain files over http on this machine, with the mishaps that servers have."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path


@dataclass
class DepotServer:
    """Serves `folder` under /spares/; `missing` paths answer 404, `stale` paths come from another folder."""

    folder: Path
    missing: set[str] = field(default_factory=set)
    stale: dict[str, Path] = field(default_factory=dict)
    asked: list[str] = field(default_factory=list)
    port: int = 0

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}/spares/"


class _Handler(SimpleHTTPRequestHandler):
    def __init__(self, depot: DepotServer, *args, **kwargs):
        self._depot = depot
        super().__init__(*args, **kwargs)

    def translate_path(self, path):
        inside = path.split("?")[0].split("#")[0].removeprefix("/spares/") or "index.html"
        self._depot.asked.append(inside)
        if inside in self._depot.missing or not path.startswith("/spares/"):
            return "/nowhere"
        return str(self._depot.stale.get(inside, self._depot.folder) / inside)

    def end_headers(self):
        if self.path.endswith("/sw.js"):
            self.send_header("Cache-Control", "no-store")
        super().end_headers()

    def log_message(self, *_):
        pass


class _Server(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, *_):
        """A tablet that goes in the middle of an answer is no news here."""


@contextmanager
def serving(folder: Path) -> Iterator[DepotServer]:
    """The server until the block ends; `stopped` by leaving it."""
    depot = DepotServer(folder)
    server = _Server(("127.0.0.1", 0), partial(_Handler, depot))
    depot.port = server.server_port
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True)
    thread.start()
    try:
        yield depot
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
