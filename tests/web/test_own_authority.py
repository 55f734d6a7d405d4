"""The machine's own authority: a strict client that trusts it alone gets in by certified names, and by no other."""

from __future__ import annotations

import socket
import ssl
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization

from crownwright.web import own_authority
from crownwright.web.own_authority import Papers, papers_in

NOW = datetime.now(UTC)
HOSTS = ("192.168.1.20", "shop.local", "shop")


@contextmanager
def door(papers: Papers) -> Iterator[int]:
    """Somebody who shakes hands with these papers and hangs up."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(papers.certificate, papers.key)
    with socket.create_server(("127.0.0.1", 0)) as listening:

        def answer() -> None:
            try:
                with context.wrap_socket(listening.accept()[0], server_side=True) as one:
                    one.recv(1)
            except OSError:
                pass

        thread = threading.Thread(target=answer, daemon=True)
        thread.start()
        yield listening.getsockname()[1]
        thread.join(5)


def shake_hands(papers: Papers, name: str) -> None:
    """As a phone that trusts this authority and nobody else. Raises ssl.SSLCertVerificationError."""
    trusting = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    trusting.verify_flags |= ssl.VERIFY_X509_STRICT
    trusting.load_verify_locations(cadata=papers.authority)
    with door(papers) as port, socket.create_connection(("127.0.0.1", port), 5) as raw:
        trusting.wrap_socket(raw, server_hostname=name).close()


@pytest.mark.parametrize("name", ["localhost", "127.0.0.1", *HOSTS])
def test_a_phone_that_trusts_it_gets_in_by_every_certified_name(tmp_path: Path, name: str) -> None:
    shake_hands(papers_in(tmp_path / "door", HOSTS, NOW), name)


def test_it_gets_in_by_no_other_name(tmp_path: Path) -> None:
    with pytest.raises(ssl.SSLCertVerificationError, match="mismatch"):
        shake_hands(papers_in(tmp_path, HOSTS, NOW), "192.168.1.21")


@pytest.mark.parametrize("stranger", ["bank.example", "8.8.8.8"])
def test_a_stolen_authority_can_speak_for_nobody_else(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stranger: str) -> None:
    papers_in(tmp_path, HOSTS, NOW)
    monkeypatch.setattr(own_authority, "_allowed", lambda *_: True)  # who has the key asks nobody
    forged = papers_in(tmp_path, (stranger,), NOW)
    assert stranger in forged.hosts
    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree"):
        shake_hands(forged, stranger)


def test_of_public_addresses_it_speaks_only_for_those_the_machine_had_when_it_was_made(tmp_path: Path) -> None:
    assert papers_in(tmp_path, ("192.0.2.2", "10.0.0.7"), NOW).hosts == ("localhost", "127.0.0.1", "192.0.2.2", "10.0.0.7")
    later = papers_in(tmp_path, ("192.0.2.3", "10.0.0.8"), NOW)
    assert later.hosts == ("localhost", "127.0.0.1", "10.0.0.8")
    shake_hands(later, "10.0.0.8")


def test_it_is_kept_and_renewed_only_where_it_must_be(tmp_path: Path) -> None:
    def certificate() -> x509.Certificate:
        return x509.load_pem_x509_certificate((tmp_path / "certificate.pem").read_bytes())

    first = papers_in(tmp_path, HOSTS, NOW)
    serial = certificate().serial_number
    assert papers_in(tmp_path, HOSTS, NOW + timedelta(days=300)).fingerprint == first.fingerprint
    assert certificate().serial_number == serial, "nothing was wrong with it"
    papers_in(tmp_path, HOSTS, NOW + timedelta(days=370))
    late = certificate()
    assert late.serial_number != serial, "it would soon run out"
    moved = papers_in(tmp_path, ("192.168.1.99", *HOSTS[1:]), NOW + timedelta(days=370))
    assert "192.168.1.99" in moved.hosts, "the router gave the machine another address"
    assert moved.authority == first.authority, "phones need not be told again"
    (tmp_path / "authority.pem").unlink()
    assert papers_in(tmp_path, HOSTS, NOW).fingerprint != first.fingerprint
    shake_hands(papers_in(tmp_path, HOSTS, NOW), "shop.local")


def test_keys_are_for_this_user_alone_and_the_fingerprint_is_what_a_phone_shows(tmp_path: Path) -> None:
    papers = papers_in(tmp_path / "door", HOSTS, NOW)
    assert {path.stat().st_mode & 0o077 for path in (tmp_path / "door").iterdir()} == {0}
    shown = x509.load_der_x509_certificate(papers.authority)
    assert papers.fingerprint.replace(" ", "") == shown.fingerprint(hashes.SHA256()).hex().upper()
    assert b"PRIVATE" not in papers.authority + shown.public_bytes(serialization.Encoding.PEM)
