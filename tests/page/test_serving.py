"""`planner serve` as a process on a real loopback socket, and what it refuses to start with."""

import http.client
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlencode, urlsplit

import pytest

from planner.study import Study
from tests.cli.typed import planner
from tests.page.visit import run_asked

ROOT = Path(__file__).resolve().parents[2]
MAIN = f"import sys; sys.path.insert(0, {str(ROOT)!r}); from planner.cli import main; main()"
LONGEST_S = 20


@pytest.fixture
def place(folder: Path) -> Iterator[tuple[str, int]]:
    """Host and port of a page that another process serves."""
    Study.open(folder).next()  # what was pending before may be answered at once
    words = [sys.executable, "-c", MAIN, "serve", str(folder), "--port", "0"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        link = urlsplit(process.stdout.readline().strip())
        assert (link.hostname, link.path) == ("127.0.0.1", "/")
        yield str(link.hostname), int(link.port or 0)
        process.terminate()


def got(place: tuple[str, int], method: str, path: str, **sent: object) -> tuple[int, str]:
    """Status and text of a request on a connection of its own."""
    line = http.client.HTTPConnection(*place, timeout=LONGEST_S)
    line.request(method, path, **sent)  # type: ignore[arg-type]
    answer = line.getresponse()
    told = answer.status, answer.read().decode()
    line.close()
    return told


def test_a_run_is_recorded_over_the_wire(place: tuple[str, int], folder: Path) -> None:
    """The page, its two files, a form as browsers send it; what browsers would not send."""
    status, page = got(place, "GET", "/")
    assert status == 200
    assert [got(place, "GET", f"/page.{kind}")[0] for kind in ("css", "js")] == [200, 200]
    origin = "http://{}:{}".format(*place)
    form = {"Origin": origin, "Content-Type": "application/x-www-form-urlencoded"}
    body = urlencode({"run": run_asked(page), "outcome": "crash", "note": "fan & pump off"})
    foreign = form | {"Origin": "http://evil.example"}
    assert got(place, "POST", "/record", body=body, headers=foreign)[0] == 403
    much = iter([b"note=", *[b"x" * 10_000] * 10])  # in chunks, its length not told
    assert got(place, "POST", "/record", body=much, headers=form, encode_chunked=True)[0] == 411
    assert Study.open(folder).history.runs == ()
    assert got(place, "POST", "/record", body=body, headers=form)[0] == 303
    assert [run.note for run in Study.open(folder).history.runs] == ["fan & pump off"]


def test_a_request_without_host_gets_nothing(place: tuple[str, int]) -> None:
    """As HTTP/1.0 allows; and a line that is no request."""
    for line in (b"GET / HTTP/1.0\r\n\r\n", b"GET /../../study.toml HTTP/1.0\r\n\r\n", b"\x00\r\n"):
        with socket.create_connection(place, timeout=LONGEST_S) as raw:
            raw.sendall(line)
            told = b"".join(iter(lambda raw=raw: raw.recv(4096), b""))  # type: ignore[misc]
        assert b"200 OK" not in told
        assert b"knob" not in told


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--address", "0.0.0.0"), "expected one IP address of this machine"),
        (("--address", "bench.local"), "expected one IP address of this machine"),
        (("--address", "203.0.113.7"), "expected an address of this machine"),
        (("--port", "70000"), "less than or equal to 65535"),
    ],
)
def test_where_it_cannot_stand(folder: Path, words: tuple[str, ...], said: str) -> None:
    """Exit code 2 and what was expected; 203.0.113.7 is nobody's (RFC 5737)."""
    refused = planner("serve", folder, *words)
    assert refused.exit_code == 2
    assert said in refused.stderr


def test_a_port_that_is_taken(folder: Path) -> None:
    """Two pages cannot stand at one port."""
    with socket.create_server(("127.0.0.1", 0)) as taken:
        refused = planner("serve", folder, "--port", taken.getsockname()[1])
    assert refused.exit_code == 2
    assert "a port that is free" in refused.stderr


@pytest.mark.parametrize("library", ["flask", "segno"])
def test_without_its_library_it_says_what_to_install(folder: Path, library: str) -> None:
    """The library is an extra; all other commands do without."""
    words = [sys.executable, "-c", f"import sys; sys.modules['{library}'] = None; {MAIN}"]
    refused = subprocess.run([*words, "serve", str(folder)], capture_output=True, text=True)
    assert refused.returncode == 2
    assert f"needs the library {library}: pip install 'bench-planner[serve]'" in refused.stderr
