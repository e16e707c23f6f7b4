"""The demo's processes: a web server on this computer only, and a worker for what happens in the background."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import types
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

HOST = "127.0.0.1"
ROOT = Path(__file__).resolve().parent.parent
PATIENCE = 10  # seconds for a process to end by itself


class Taken(Exception):
    """Something else listens on the port."""


def check_free(port: int) -> None:
    """Raise Taken if nothing can listen on the port."""
    with socket.socket() as probe:
        if os.name == "posix":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((HOST, port))
        except OSError as error:
            raise Taken(str(port)) from error


def free_port() -> int:
    """A port on which nothing listens at this moment."""
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        return int(probe.getsockname()[1])


def web_server(port: int) -> list[str]:
    """The command of the web server that this system has."""
    if sys.platform == "win32":
        return [sys.executable, "-m", "waitress", f"--listen={HOST}:{port}", "shared.wsgi:application"]
    size = ["--workers", "2", "--threads", "4", "--graceful-timeout", str(PATIENCE // 2)]
    bound = ["--bind", f"{HOST}:{port}", "--log-level", "warning"]
    return [sys.executable, "-m", "gunicorn", *size, *bound, "shared.wsgi:application"]


def worker() -> list[str]:
    """The command of the process that works in the background."""
    return [sys.executable, "manage.py", "db_worker", "--verbosity", "0"]


@contextmanager
def running(*commands: Sequence[str]) -> Iterator[list[subprocess.Popen[bytes]]]:
    """Start the commands, and end all of them on the way out, whatever happens.

    Each leads a group of its own, so that Ctrl-C reaches this process alone, which then ends them in good order.
    """
    apart: dict[str, int] = (
        {"creationflags": subprocess.CREATE_NEW_PROCESS_GROUP}
        if sys.platform == "win32"
        else {"process_group": 0}
    )
    started: list[subprocess.Popen[bytes]] = []
    try:
        for command in commands:
            started.append(subprocess.Popen(command, cwd=ROOT, **apart))  # noqa: S603
        yield started
    finally:
        end(started)


def end(processes: Sequence[subprocess.Popen[bytes]]) -> None:
    """Ask them to end, and see to it that they do, with all that they started."""
    for process in processes:
        if process.poll() is None:
            process.terminate()
    for process in processes:
        try:
            process.wait(PATIENCE)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        if sys.platform != "win32":
            with suppress(ProcessLookupError):
                os.killpg(process.pid, signal.SIGKILL)


def wait_until_answering(port: int, process: subprocess.Popen[bytes], seconds: float = 30) -> bool:
    """Whether something listens on the port before the process ends or the time is up."""
    until = time.monotonic() + seconds
    while time.monotonic() < until and process.poll() is None:
        with socket.socket() as probe:
            probe.settimeout(1)
            if probe.connect_ex((HOST, port)) == 0:
                return True
        time.sleep(0.1)
    return False


def wait_for_one_to_end(processes: Sequence[subprocess.Popen[bytes]]) -> int | None:
    """Until one ends by itself (its code), or someone presses Ctrl-C or closes the terminal (None)."""
    for name in ("SIGTERM", "SIGHUP", "SIGBREAK"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), _interrupt)
    try:
        while True:
            for process in processes:
                if process.poll() is not None:
                    return process.returncode
            time.sleep(0.3)
    except KeyboardInterrupt:
        return None


def _interrupt(number: int, frame: types.FrameType | None) -> None:
    raise KeyboardInterrupt
