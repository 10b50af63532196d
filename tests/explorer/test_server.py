"""The server answers to its own names only, refuses what is too large, and seals what it sends."""

from __future__ import annotations

import http.client
import socket
import threading
from collections.abc import Iterator
from concurrent.futures import Future

import pytest
from flask import Flask, request
from flask.testing import FlaskClient

from explorer import server
from explorer.server import LOCAL, MOST_BYTES, content_policy, guard, is_loopback, serve, trusted_hosts
from solver.errors import InputError

HASH = "'sha256-jZlsGVOhUAIcH+4PVs7QuGZkthRMgvT2n0ilH6/zTM0='"


def bare() -> Flask:
    app = Flask("bare")

    @app.get("/")
    def page() -> str:
        return "the page"

    @app.post("/_dash-update-component")
    def callback() -> str:
        return str(len(request.get_data()))

    @app.get("/assets/look.css")
    def look() -> str:
        return "p {}"

    return app


@pytest.fixture
def client() -> FlaskClient:
    app = bare()
    guard(app, trusted_hosts("127.0.0.1"), (HASH,))
    return app.test_client()


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost", "127.0.0.1:8717", "localhost:8717"])
def test_the_machines_own_names_are_answered(client: FlaskClient, host: str) -> None:
    answer = client.get("/", headers={"Host": host})
    assert (answer.status_code, answer.text) == (200, "the page")


@pytest.mark.parametrize(
    "host", ["elsewhere.example", "127.0.0.1.elsewhere.example", "localhost.example:8717", "192.0.2.7", ""]
)
def test_foreign_names_are_refused_with_every_header(client: FlaskClient, host: str) -> None:
    answer = client.get("/", headers={"Host": host})
    assert answer.status_code == 400
    assert "the page" not in answer.text
    assert answer.headers["X-Frame-Options"] == "DENY"


def test_a_host_asked_for_is_answered_besides_the_machines_own_names() -> None:
    app = bare()
    guard(app, trusted_hosts("Plover.example"))
    told = {
        host: app.test_client().get("/", headers={"Host": host}).status_code
        for host in ("plover.example:8717", "localhost", "other.example")
    }
    assert told == {"plover.example:8717": 200, "localhost": 200, "other.example": 400}


def test_at_every_address_the_machines_name_is_answered_and_no_other() -> None:
    names = trusted_hosts("0.0.0.0")
    assert {*LOCAL, socket.gethostname()} <= set(names)
    assert "0.0.0.0" not in names
    assert "elsewhere.example" not in names


def test_every_answer_is_sealed(client: FlaskClient) -> None:
    for answer in (client.get("/"), client.get("/assets/look.css"), client.get("/nowhere")):
        told = answer.headers
        assert told["X-Content-Type-Options"] == "nosniff"
        assert told["Referrer-Policy"] == "no-referrer"
        assert told["X-Frame-Options"] == "DENY"
        assert told["Cross-Origin-Opener-Policy"] == "same-origin"
        assert told["Content-Security-Policy"] == content_policy((HASH,))


def test_no_script_runs_but_our_own_and_the_ones_named() -> None:
    rules = dict(rule.split(" ", 1) for rule in content_policy((HASH,)).split("; "))
    assert rules["script-src"] == f"'self' {HASH}"
    assert rules["style-src"] == "'self' 'unsafe-inline'"
    assert rules["img-src"] == "'self' data:"
    assert (rules["default-src"], rules["connect-src"]) == ("'self'", "'self'")
    closed = ("object-src", "frame-ancestors", "base-uri", "form-action")
    assert {rules[name] for name in closed} == {"'none'"}


def test_answers_are_not_stored_by_a_browser_and_files_may_be(client: FlaskClient) -> None:
    assert client.post("/_dash-update-component", data=b"{}").headers["Cache-Control"] == "no-store"
    assert "Cache-Control" not in client.get("/assets/look.css").headers


def test_a_request_of_the_largest_size_passes_and_a_larger_one_is_refused(client: FlaskClient) -> None:
    passed = client.post("/_dash-update-component", data=b"x" * MOST_BYTES)
    assert (passed.status_code, passed.text) == (200, "12000000")
    refused = client.post("/_dash-update-component", data=b"x" * (MOST_BYTES + 1))
    assert refused.status_code == 413
    assert refused.headers["X-Content-Type-Options"] == "nosniff"


@pytest.mark.parametrize(
    ("host", "loopback"),
    [
        ("127.0.0.1", True),
        ("127.0.0.2", True),
        ("localhost", True),
        ("LOCALHOST", True),
        ("0.0.0.0", False),
        ("192.168.1.5", False),
        ("localhost.example", False),
        ("", False),
    ],
)
def test_only_the_machine_itself_is_loopback(host: str, loopback: bool) -> None:
    assert is_loopback(host) is loopback


class EndedError(Exception):
    """Raised by `ready` to leave without serving."""


def address_of(host: str, port: int | None) -> str:
    """The address that would be served at."""
    told: list[str] = []

    def ready(address: str) -> None:
        told.append(address)
        raise EndedError

    with pytest.raises(EndedError):
        serve(bare(), host, port, ready)
    return told[0]


@pytest.fixture
def taken() -> Iterator[int]:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        yield other.getsockname()[1]


def test_a_port_that_is_taken_is_told_with_what_to_do(taken: int) -> None:
    with pytest.raises(InputError, match=rf"127.0.0.1 port {taken}.*in use.*--port 0"):
        serve(bare(), "127.0.0.1", taken, lambda address: pytest.fail(address))


def test_a_taken_default_port_makes_way_for_any_free_one(taken: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(server, "DEFAULT_PORT", taken)
    port = int(address_of("127.0.0.1", None).rstrip("/").rsplit(":", 1)[1])
    assert port not in (0, taken)


def test_the_default_port_is_taken_where_it_is_free(monkeypatch: pytest.MonkeyPatch, taken: int) -> None:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        free = probe.getsockname()[1]
    monkeypatch.setattr(server, "DEFAULT_PORT", free)
    assert address_of("127.0.0.1", None) == f"http://127.0.0.1:{free}/"


@pytest.mark.parametrize("host", ["192.0.2.7", "no such name", "::1", "x" * 70, ""])
def test_a_host_that_is_not_this_machine_is_told(host: str) -> None:
    with pytest.raises(InputError, match="of this machine"):
        serve(bare(), host, 0, lambda address: pytest.fail(address))


def test_at_every_address_the_address_told_is_one_that_opens() -> None:
    assert address_of("0.0.0.0", 0).startswith("http://127.0.0.1:")


def test_a_server_that_is_ready_answers_and_refuses_foreign_names_and_large_requests() -> None:
    app = bare()
    guard(app, LOCAL)
    ready: Future[str] = Future()
    threading.Thread(target=serve, args=(app, "127.0.0.1", 0, ready.set_result), daemon=True).start()
    place = ready.result(30).removeprefix("http://").rstrip("/")

    def ask(method: str, path: str, body: bytes | None = None, **headers: str) -> tuple[int, bytes]:
        line = http.client.HTTPConnection(place, timeout=30)
        try:
            line.request(method, path, body, headers)
            answer = line.getresponse()
            assert answer.getheader("Server") is None
            return answer.status, answer.read()
        finally:
            line.close()

    assert ask("GET", "/") == (200, b"the page")
    assert ask("GET", "/", Host="elsewhere.example")[0] == 400
    length = {"Content-Length": str(MOST_BYTES + 1)}
    assert ask("POST", "/_dash-update-component", b"", **length)[0] == 413
