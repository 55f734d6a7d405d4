"""A certificate authority of this machine's own, so that phones on the mason's network speak HTTPS with it.

No public authority certifies an address at home. A phone that is given this one's certificate once trusts the machine from then
on: nobody on the network reads along, and the phone may keep pages to open up on a roof where nothing reaches it. The authority
can speak for private addresses and this machine's names alone (name constraints): a phone that trusts it trusts it for no more.

X.509 as profiled by RFC 5280; name constraints 4.2.1.10, private addresses RFC 1918 and RFC 3927.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from ipaddress import IPv4Address, IPv4Network, ip_address
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

PRIVATE = tuple(map(IPv4Network, ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8")))
AUTHORITY_HOLDS = timedelta(days=3650)
HOLDS = timedelta(days=390)
"""Some phones take no certificate that holds for more than 398 days (common practice, no source)."""
AHEAD = timedelta(days=30)
"""A certificate with less than this to go is made anew."""
EARLY = timedelta(days=1)
"""Good from a day before it is made: a phone's clock may be behind."""
AUTHORITY, AUTHORITY_KEY, CERTIFICATE, KEY = "authority.pem", "authority-key.pem", "certificate.pem", "key.pem"


@dataclass(frozen=True, slots=True)
class Papers:
    """What the machine shows at its door: files of its certificate and key, and the authority that phones are to trust.

    ``authority`` is the authority's certificate (DER), ``fingerprint`` its SHA-256 in pairs of hex figures, ``hosts`` the names
    and addresses it is certified for.
    """

    certificate: Path
    key: Path
    authority: bytes
    fingerprint: str
    hosts: tuple[str, ...]


def papers_in(folder: Path, hosts: Sequence[str], now: datetime) -> Papers:
    """Return the papers for these names and addresses, kept in a folder for this user alone; made or renewed where they must be.

    The authority is made once and holds ten years. It may speak for private addresses, and for others only that this machine had
    by then: what it may not speak for is left out of ``hosts``. Raises OSError where the folder cannot be written.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    certificate, key = _authority(folder, hosts, now)
    wanted = tuple(
        dict.fromkeys(host.lower() for host in ("localhost", "127.0.0.1", *hosts) if _allowed(certificate, host.lower()))
    )
    if not _holds(folder, certificate, wanted, now):
        _certify(folder, certificate, key, wanted, now)
    der = certificate.public_bytes(serialization.Encoding.DER)
    print_of = certificate.fingerprint(hashes.SHA256()).hex(" ").upper()
    return Papers(folder / CERTIFICATE, folder / KEY, der, print_of, wanted)


def _authority(folder: Path, hosts: Iterable[str], now: datetime) -> tuple[x509.Certificate, ec.EllipticCurvePrivateKey]:
    paths = folder / AUTHORITY, folder / AUTHORITY_KEY
    if all(path.exists() for path in paths):
        certificate = x509.load_pem_x509_certificate(paths[0].read_bytes())
        key = serialization.load_pem_private_key(paths[1].read_bytes(), None)
        if isinstance(key, ec.EllipticCurvePrivateKey) and now + HOLDS < certificate.not_valid_after_utc:
            return certificate, key
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Crownwright on this machine, {now:%Y-%m-%d}")])
    names = dict.fromkeys(("localhost", "local", *(host.lower() for host in hosts if _address(host) is None)))
    odd = [IPv4Network(address) for host in hosts if (address := _address(host)) and not _within(address, PRIVATE)]
    permitted = [*map(x509.DNSName, names), *map(x509.IPAddress, (*PRIVATE, *odd))]
    certificate = (
        _begun(name, name, key, now, AUTHORITY_HOLDS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .add_extension(_usage(signs=True), critical=True)
        .sign(key, hashes.SHA256())
    )
    _write(paths[1], _pem(key))
    _write(paths[0], certificate.public_bytes(serialization.Encoding.PEM))
    return certificate, key


def _certify(
    folder: Path, authority: x509.Certificate, signer: ec.EllipticCurvePrivateKey, hosts: Sequence[str], now: datetime
) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Crownwright")])
    certificate = (
        _begun(name, authority.subject, key, now, HOLDS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.SubjectAlternativeName([_general(host) for host in hosts]), critical=False)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(_usage(signs=False), critical=True)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(signer.public_key()), critical=False)
        .sign(signer, hashes.SHA256())
    )
    _write(folder / KEY, _pem(key))
    _write(folder / CERTIFICATE, certificate.public_bytes(serialization.Encoding.PEM))


def _holds(folder: Path, authority: x509.Certificate, hosts: Sequence[str], now: datetime) -> bool:
    """Whether the certificate that lies there is of this authority, good for a while, and for just these hosts."""
    if not ((folder / CERTIFICATE).exists() and (folder / KEY).exists()):
        return False
    there = x509.load_pem_x509_certificate((folder / CERTIFICATE).read_bytes())
    names = there.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    try:
        there.verify_directly_issued_by(authority)
    except Exception:  # whatever is wrong with it, it is made anew
        return False
    return there.not_valid_before_utc <= now < there.not_valid_after_utc - AHEAD and list(names) == [
        _general(host) for host in hosts
    ]


def _begun(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePrivateKey, now: datetime, holds: timedelta
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - EARLY)
        .not_valid_after(now + holds)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )


def _usage(*, signs: bool) -> x509.KeyUsage:
    """An authority signs certificates; a machine at its door signs for itself."""
    return x509.KeyUsage(
        digital_signature=not signs,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=signs,
        crl_sign=signs,
        encipher_only=False,
        decipher_only=False,
    )


def _allowed(authority: x509.Certificate, host: str) -> bool:
    """Whether the authority may speak for a name or address."""
    permitted = authority.extensions.get_extension_for_class(x509.NameConstraints).value.permitted_subtrees or []
    address = _address(host)
    if address is not None:
        return _within(address, [one.value for one in permitted if isinstance(one, x509.IPAddress)])
    names = [one.value for one in permitted if isinstance(one, x509.DNSName)]
    return any(host == name or host.endswith(f".{name}") for name in names)


def _within(address: IPv4Address, networks: Iterable[object]) -> bool:
    return any(isinstance(network, IPv4Network) and address in network for network in networks)


def _address(host: str) -> IPv4Address | None:
    try:
        address = ip_address(host)
    except ValueError:
        return None
    return address if isinstance(address, IPv4Address) else None


def _general(host: str) -> x509.GeneralName:
    address = _address(host)
    return x509.DNSName(host) if address is None else x509.IPAddress(address)


def _pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption())


def _write(path: Path, content: bytes) -> None:
    """Write a file that only this user can read, whole or not at all."""
    new = path.with_suffix(".new")
    with os.fdopen(os.open(new, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
        file.write(content)
    new.replace(path)
