"""What the tests need of the machine: a PostgreSQL server run for them alone, and Chromium; Debian's packages where missing."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

GIVEN = "CROWNWRIGHT_TEST_POSTGRES"
BROWSER = "CROWNWRIGHT_TEST_BROWSER"
BROWSERS = ("chromium", "chromium-browser", "google-chrome")


@contextmanager
def postgres() -> Iterator[dict[str, str]]:
    """Environment that names a server for the tests; empty, with a word why, where there can be none."""
    if os.environ.get(GIVEN):
        yield {GIVEN: os.environ[GIVEN]}
        return
    binaries = programs("initdb", "/usr/lib/postgresql/*/bin", package="postgresql")
    if binaries is None:
        print("No PostgreSQL here, and without root none can be installed: its half of the tests is left out.", flush=True)
        yield {}
        return
    with tempfile.TemporaryDirectory(prefix="crownwright-postgres-") as folder:
        data, port = Path(folder) / "data", free_port()
        mine = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []  # it refuses to run as root
        if mine:
            shutil.chown(folder, "postgres")

        def pg(program: str, *options: object) -> None:
            command = [*mine, binaries / program, *map(str, options)]
            subprocess.run(command, check=True, stdout=subprocess.DEVNULL, cwd=folder)

        pg("initdb", "-U", "postgres", "-A", "trust", "-E", "UTF8", data)
        settings = f"-p {port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={folder} -c fsync=off"
        pg("pg_ctl", "-D", data, "-o", settings, "-l", data / "log", "-w", "start")
        try:
            yield {GIVEN: f"postgresql://postgres@127.0.0.1:{port}/postgres"}
        finally:
            pg("pg_ctl", "-D", data, "-m", "immediate", "stop")


def browser() -> dict[str, str]:
    """Environment that names Chromium for the tests; empty, with a word why, where there can be none."""
    found = chromium() or (chromium() if install("chromium") else None)
    if found is None:
        print("No Chromium here, and without root none can be installed: the tests in a browser are left out.", flush=True)
    return {} if found is None else {BROWSER: found}


def chromium() -> str | None:
    """Where Chromium is on this machine; None where there is none."""
    return os.environ.get(BROWSER) or next((path for name in BROWSERS if (path := shutil.which(name))), None)


def programs(name: str, folders: str, package: str) -> Path | None:
    """The folder of a system program, installed as a Debian package where it is missing and may be."""
    found = _found(name, folders)
    if found is None and install(package):
        found = _found(name, folders)
    return found


def install(package: str) -> bool:
    """Install a Debian package as root, or by sudo where it asks for no password; whether it was."""
    root = [] if os.geteuid() == 0 else ["sudo", "-n"]
    if not shutil.which("apt-get") or (root and not shutil.which("sudo")):
        return False
    print(f"Installing {package} from Debian's packages (once) ...", flush=True)
    quiet = {"DEBIAN_FRONTEND": "noninteractive", **os.environ}
    steps = (["apt-get", "update", "-qq"], ["apt-get", "install", "-y", "-qq", "--no-install-recommends", package])
    return all(
        subprocess.run([*root, *step], env=quiet, stdout=subprocess.DEVNULL, check=False).returncode == 0 for step in steps
    )


def _found(name: str, folders: str) -> Path | None:
    there = sorted(Path("/").glob(folders.lstrip("/")), key=lambda path: path.parent.name.zfill(4))
    return next((path for path in reversed(there) if (path / name).exists()), None)


def free_port() -> int:
    """A port that nobody listens on just now."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])
