"""Who is kept out: other names, other sites, wrong keys, too much, other paths."""

from pathlib import Path

import pytest

from planner.errors import InputError
from planner.page.door import LARGEST, Door
from planner.page.server import checked_address
from tests.page.visit import HERE, Visit, run_asked

KEY = "k" * 22


def untouched(visit: Visit) -> bool:
    """Whether nothing is on record."""
    return visit.study().history.runs == ()


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:8417", "127.0.0.1:80", "127.0.0.1", "", "localhost:1"]
)
def test_another_name_in_the_host_header_is_refused(visit: Visit, host: str) -> None:
    """A stranger's name that points at this address (DNS rebinding) gets neither page nor form."""
    for method, path in (("GET", "/"), ("GET", "/news"), ("POST", "/record")):
        told = {"Host": host, "Origin": f"http://{host}"}
        assert visit.ask(method, path, told).status_code in (400, 421)
    assert untouched(visit)


@pytest.mark.parametrize("host", ["127.0.0.1:8417", "localhost:8417", "LocalHost:8417"])
def test_the_names_of_this_machine_are_let_in(visit: Visit, host: str) -> None:
    """As a browser sends them."""
    assert visit.ask("GET", "/", {"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "told",
    [
        {"Origin": "http://evil.example"},
        {"Origin": "https://127.0.0.1:8417"},
        {"Origin": "http://127.0.0.1:9000"},
        {"Origin": "http://127.0.0.1:8417.evil.example"},
        {"Origin": "null"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {},
    ],
)
def test_a_form_from_elsewhere_is_refused(visit: Visit, told: dict[str, str]) -> None:
    """RFC 6454: a browser says of which site the sending page is; no word of it is no entry."""
    run = run_asked(visit.page())
    sent = {"run": str(run), "outcome": "pass"}
    assert visit.ask("POST", "/record", told, data=sent).status_code == 403
    assert untouched(visit)


def test_another_site_cannot_read_or_embed_the_page(visit: Visit) -> None:
    """A picture or script tag elsewhere gets nothing; a link that a person follows does."""
    other = {"Sec-Fetch-Site": "cross-site"}
    assert visit.ask("GET", "/", {**other, "Sec-Fetch-Mode": "no-cors"}).status_code == 403
    assert visit.ask("GET", "/", {**other, "Sec-Fetch-Mode": "navigate"}).status_code == 200


def test_a_key_is_asked_for_where_the_door_has_one(folder: Path) -> None:
    """Everything needs it, style sheet and news included; the right one opens all."""
    visit = Visit(folder, Door("192.0.2.7", 8417, KEY))
    paths = ["", "page.css", "page.js", "icon.svg", "pictures", "own", "record", "news"]
    for key in ("", f"{KEY[:-1]}x", KEY[:-1], "\N{SNOWMAN}"):
        opening = f"/{key}/" if key else "/"
        assert {visit.ask("GET", opening + path, {}).status_code for path in paths} == {403}
    told = {"Origin": "http://192.0.2.7:8417"}
    sent = {"run": "1", "outcome": "pass"}
    assert visit.ask("POST", f"/{'x' * 22}/record", told, data=sent).status_code == 403
    assert visit.ask("POST", "/record", told, data=sent).status_code == 403
    assert untouched(visit)
    assert [visit.ask("GET", f"/{KEY}/{path}", {}).status_code for path in paths[:6]] == [200] * 6
    visit.clock += 2
    assert visit.ask("POST", f"/{KEY}/record", told, data=sent).status_code == 303


def test_with_a_key_only_the_address_itself_is_a_host(folder: Path) -> None:
    """No loopback name opens the page that stands in the network."""
    visit = Visit(folder, Door("192.0.2.7", 8417, KEY))
    assert visit.ask("GET", f"/{KEY}/", {"Host": "localhost:8417"}).status_code == 421


def test_too_much_is_refused(visit: Visit) -> None:
    """More than 64 kB, told or not told beforehand."""
    run = run_asked(visit.page())
    assert LARGEST == 65536
    assert visit.tap("pass", run, note="x" * LARGEST).status_code == 413
    many = {f"reading:r{i}": "1" for i in range(5000)}
    assert visit.tap("pass", run, **many).status_code == 413
    assert untouched(visit)


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "HEAD", "TRACE", "FOO"])
def test_other_methods_are_refused(visit: Visit, method: str) -> None:
    """GET and POST are all there is."""
    assert visit.ask(method, "/record", {"Origin": HERE}).status_code == 405


@pytest.mark.parametrize(
    "path",
    [
        "/study.toml",
        "/ledger.jsonl",
        "/../study.toml",
        "/%2e%2e/study.toml",
        "/page.css/../../app.py",
        "/..%2fapp.py",
        "/files/page.css",
        "/templates/page.html",
        "/page.css%00",
        "/static/page.css",
        "/\\..\\app.py",
        "/picture/../page.css",
        "/picture/..%2f..%2fstudy.svg",
        "/picture/study.svg",
        "/mend/study.toml",
        "/mend/-1",
        "/mend/99999999999999999999",
    ],
)
def test_no_path_leads_elsewhere(visit: Visit, path: str) -> None:
    """No file is found by its path."""
    answer = visit.ask("GET", path, {})
    assert answer.status_code == 404
    assert "study" not in answer.text


@pytest.mark.parametrize("path", ["/", "/page.css", "/own", "/pictures", "/nowhere"])
def test_every_answer_forbids_what_the_page_does_not_need(visit: Visit, path: str) -> None:
    """No foreign or inline script, no frame, no sniffing, nothing kept; refusals too."""
    headers = visit.ask("GET", path, {}).headers
    policy = headers["Content-Security-Policy"]
    assert policy.startswith("default-src 'self';")
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Cache-Control"] == "no-store"


def test_the_page_needs_nothing_from_elsewhere(visit: Visit) -> None:
    """No address of another machine, no style or script inside the page."""
    files = "".join(visit.ask("GET", f"/page.{kind}", {}).text for kind in ("css", "js"))
    page = visit.page()
    assert "://" not in page + files
    assert "style=" not in page
    assert " on" not in "".join(part.split(">")[0] for part in page.split("<button")[1:])
    assert "<script>" not in page


@pytest.mark.parametrize("text", ["0.0.0.0", "::", "bench.local", "", "224.0.0.1", "1.2.3"])
def test_an_address_is_one_of_one_machine(text: str) -> None:
    """A name can be pointed elsewhere, and an open address would answer on every network."""
    with pytest.raises(InputError, match="expected one IP address of this machine"):
        checked_address(text)


def test_links() -> None:
    """As they are printed."""
    assert checked_address("localhost") == "127.0.0.1"
    assert Door("127.0.0.1", 8417).link == "http://127.0.0.1:8417/"
    assert Door("fe80::1", 80, "key").link == "http://[fe80::1]:80/key/"
    assert "127.0.0.1" in Door("127.0.0.1", 80).hosts
