"""The server behind the pages: who may ask, what a browser is told to refuse, and how it starts and ends."""

from __future__ import annotations

import errno
import ipaddress
import logging
import os
import socket
from collections.abc import Callable, Sequence
from contextlib import suppress

from flask import Flask, Response, request
from waitress import create_server

from solver.errors import InputError

DEFAULT_PORT = 8717
LOCAL = ("127.0.0.1", "localhost")
EVERYWHERE = "0.0.0.0"
MOST_BYTES = 12 * 10**6
"""The largest request: a study of the largest size, in base64 and with the page's own state around it."""
THREADS = 8
TAKEN = (errno.EADDRINUSE, errno.EACCES)
"""What a system says of a port that another program has; Windows says the second at times."""
PAGES = ("/", "/learn/", "/whole/", "/lighter/")
FILES = tuple(page + folder for page in PAGES for folder in ("assets/", "_dash-component-suites/"))
"""Where files of the program lie, which hold nothing of a study; all else is answers."""
HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Opener-Policy": "same-origin",
}


def guard(server: Flask, hosts: Sequence[str], scripts: Sequence[str] = ()) -> None:
    """Have a server refuse foreign names (400) and large requests (413), and send headers with all answers.

    A page elsewhere that makes its own name point at this machine is refused by that name. `scripts` are
    the hashes of inline scripts that may run, as a content security policy writes them: 'sha256-…'.
    """
    server.config["TRUSTED_HOSTS"] = [host.lower() for host in hosts]
    server.config["MAX_CONTENT_LENGTH"] = MOST_BYTES
    headers = {**HEADERS, "Content-Security-Policy": content_policy(scripts)}

    def seal(response: Response) -> Response:
        response.headers.update(headers)
        if not request.path.startswith(FILES):
            response.headers["Cache-Control"] = "no-store"
        return response

    server.after_request(seal)


def content_policy(scripts: Sequence[str] = ()) -> str:
    """Return the content security policy: nothing from elsewhere, and no script but ours and `scripts`."""
    rules = {
        "default-src": "'self'",
        "script-src": " ".join(["'self'", *scripts]),
        "style-src": "'self' 'unsafe-inline'",
        "img-src": "'self' data:",
        "connect-src": "'self'",
        "object-src": "'none'",
        "frame-ancestors": "'none'",
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    return "; ".join(f"{rule} {sources}" for rule, sources in rules.items())


def is_loopback(host: str) -> bool:
    """Whether a host is this machine as it calls itself, so that nobody else reaches it there."""
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host.lower() == "localhost"


def trusted_hosts(host: str) -> tuple[str, ...]:
    """Return the names a server at `host` answers to: this machine's own, and the one it was given.

    At every address of the machine (0.0.0.0), these are the machine's name and the addresses it knows of.
    """
    return (*LOCAL, *(_own_names() if host == EVERYWHERE else (host,)))


def _own_names() -> list[str]:
    name = socket.gethostname()
    names = [name, socket.getfqdn(name)]
    try:
        names += socket.gethostbyname_ex(name)[2]
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way_out:
            # Sends nothing: it only asks which address would be used. 192.0.2.1 is nobody's (RFC 5737).
            way_out.connect(("192.0.2.1", 9))
            names.append(way_out.getsockname()[0])
    except OSError:
        # Without a network the machine has no further address to be reached at.
        return names
    return names


def serve(server: Flask, host: str, port: int | None, ready: Callable[[str], None]) -> None:
    """Serve until interrupted; `ready` is called with the address once a browser can reach it.

    Port 0 is any free one; without a port the default one, or any free one while that is taken. Raises
    InputError where it cannot listen there.
    """
    listening = _listen(host, DEFAULT_PORT if port is None else port, or_any=port is None)
    # A page asks for several things at once; that some of them wait for a moment is no news.
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    with listening, suppress(KeyboardInterrupt):
        waitress = create_server(
            server, sockets=[listening], threads=THREADS, max_request_body_size=MOST_BYTES, ident=None
        )
        reached = "127.0.0.1" if host == EVERYWHERE else host
        try:
            ready(f"http://{reached}:{listening.getsockname()[1]}/")
            waitress.run()
        finally:
            waitress.close()


def _listen(host: str, port: int, *, or_any: bool) -> socket.socket:
    """Return a socket that listens. Raises InputError with what stands against it and what to do."""
    if not host:
        # To a socket, no address means every address.
        raise InputError("--host is empty; write an IPv4 address of this machine, or its name")
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    # A port is free again at once after an end; on Windows that option would share it with another program.
    if os.name != "nt":
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
        listening.listen()
    except (OSError, UnicodeError) as error:
        listening.close()
        if or_any and isinstance(error, OSError) and error.errno in TAKEN:
            return _listen(host, 0, or_any=False)
        raise InputError(_why_not(host, port, error), [host]) from error
    return listening


def _why_not(host: str, port: int, error: Exception) -> str:
    if ":" in host or isinstance(error, (socket.gaierror, UnicodeError)):
        return f"--host {host}: not known here; write an IPv4 address of this machine, or its name"
    reason = error.strerror or str(error) if isinstance(error, OSError) else str(error)
    return (
        f"cannot listen on {host} port {port}: {reason}; name another port with --port, "
        "or --port 0 for any free one, and with --host only an address of this machine"
    )
