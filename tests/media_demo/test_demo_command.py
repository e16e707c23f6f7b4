"""`manage.py demo` as a reader runs it: in a process of its own, with a folder of its own."""

import os
import re
import signal
import sqlite3
import subprocess
import sys
import urllib.request

import pytest
from django.conf import settings

from media_demo.serving import HOST, free_port, wait_until_answering

ASIDE = ("DATABASE_URL", "EMAIL_URL", "STORAGE", "PRODUCTION", "DJANGO_SETTINGS_MODULE", "STANDPOINT_DEMO")


def environment(folder) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if name not in ASIDE}
    return kept | {"STANDPOINT_DATA": str(folder)}


def command(*words: str) -> list[str]:
    return [sys.executable, "manage.py", "demo", "--scale", "small", *words]


def run(folder, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        command(*words),
        cwd=settings.BASE_DIR,
        env=environment(folder),
        capture_output=True,
        text=True,
        check=False,
    )


def children(pid: int) -> list[int]:
    found = subprocess.run(["pgrep", "-P", str(pid)], capture_output=True, text=True, check=False)
    return [int(line) for line in found.stdout.split()]


def alive(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


def signins(said: str) -> list[tuple[str, str]]:
    return re.findall(r"(\S+@example\.org) {2,}(\S+)", said)


@pytest.mark.skipif(os.name != "posix", reason="Ctrl-C is a signal of POSIX here")
def test_it_is_built_once_then_served_as_it_is_and_stops_all_at_once(tmp_path):
    done = run(tmp_path, "--no-server")
    assert done.returncode == 0, done.stderr
    tells_its_progress_and_who_can_sign_in(done.stdout)
    a_second_run_keeps_everything_and_serves_it(tmp_path, done.stdout)


def tells_its_progress_and_who_can_sign_in(said):
    for words in ("17 members", "49 clauses in force", "answers marked", "modules published", "ready in"):
        assert words in said
    assert [email.partition(".")[0] for email, _password in signins(said)] == [
        "ishbel",
        "magnus",
        "thora",
        "bruce",
        "una",
    ]
    assert all(re.fullmatch(r"([a-z]{4}-){3}[a-z]{4}", password) for _email, password in signins(said))


def heed_interrupts():
    """A process started by one in the background begins with interrupts ignored."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def a_second_run_keeps_everything_and_serves_it(folder, said):
    database = folder / "demo" / "standpoint.sqlite3"
    before = (
        sqlite3.connect(database).execute("SELECT count(*), max(marked_at) FROM assessments_mark").fetchone()
    )
    port = free_port()
    serving = subprocess.Popen(
        command("--port", str(port)),
        cwd=settings.BASE_DIR,
        env=environment(folder),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        start_new_session=True,
        preexec_fn=heed_interrupts,
    )
    try:
        assert wait_until_answering(port, serving, seconds=60)
        with urllib.request.urlopen(f"http://{HOST}:{port}/account/login/", timeout=30) as page:
            assert "Sign in" in page.read().decode()
        refused = run(folder, "--port", str(port))
        started = [pid for child in children(serving.pid) for pid in (child, *children(child))]
        os.killpg(serving.pid, signal.SIGINT)
        told, _ = serving.communicate(timeout=120)
    finally:
        if serving.poll() is None:
            os.killpg(serving.pid, signal.SIGKILL)
    assert f"Port {port} is in use" in refused.stderr
    assert serving.returncode == 0
    assert "kept as it is" in told
    assert signins(told) == signins(said)
    assert f"http://{HOST}:{port}/" in told
    assert "Traceback" not in told
    assert len(started) >= 4  # the server with its two workers, and what works in the background
    assert not [pid for pid in started if alive(pid)]
    after = (
        sqlite3.connect(database).execute("SELECT count(*), max(marked_at) FROM assessments_mark").fetchone()
    )
    assert after == before


def test_a_database_that_it_did_not_make_is_left_alone(tmp_path):
    (tmp_path / "demo").mkdir()
    theirs = tmp_path / "demo" / "standpoint.sqlite3"
    theirs.write_bytes(b"somebody's marks")
    refused = run(tmp_path, "--no-server", "--fresh")
    assert refused.returncode == 1
    assert "holds a database that the demo did not make" in refused.stderr
    assert theirs.read_bytes() == b"somebody's marks"


def test_run_with_other_settings_it_refuses(tmp_path):
    refused = subprocess.run(
        [sys.executable, "-m", "django", "demo", "--no-server"],
        cwd=settings.BASE_DIR,
        env=environment(tmp_path) | {"DJANGO_SETTINGS_MODULE": "shared.settings"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert refused.returncode == 1
    assert "works on its own database only" in refused.stderr
    assert not (tmp_path / "standpoint.sqlite3").exists()
