"""Let a phone in by a code, know it again by its token, shut it out."""

from __future__ import annotations

import io
from dataclasses import dataclass

from crownwright.book import devices
from crownwright.book.devices import PairedDevice
from crownwright.quantity.problems import Problem
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pairing import PairingCode, hash_of, new_id, new_token
from crownwright.service.desk.signs import as_text


@dataclass(frozen=True, slots=True)
class Paired:
    """A device that was let in, with the token it keeps in its cookie. The token is shown this once; the book has its hash."""

    device: PairedDevice
    token: str


def begin_pairing(desk: Desk) -> PairingCode:
    """A new code to be typed on the phone (8 figures, ten minutes, good once). One shown before is void."""
    return desk.pairing.begin()


def pair_device(desk: Desk, code: str, name: str) -> Paired | Problem:
    """Let a device in that knows the code."""
    wait = desk.pairing.wait()
    if wait:
        return Problem("code", "too many wrong codes", f"Wait {wait:.0f} seconds, then ask for a new code")
    if not desk.pairing.accept(code[:40]):
        return Problem("code", "that is not the code, or it holds no longer", "Ask for a new code on the machine with the book")
    token, hashed = new_token()
    device = PairedDevice(new_id(), " ".join(as_text(name, 400).split())[:120] or "a phone", desk.now(), None)
    with desk.book.writing() as c:
        devices.add(c, device, hashed)
    return Paired(device, token)


def device_of(desk: Desk, token: str) -> PairedDevice | None:
    """The device that has this token; None when there is none or it was shut out."""
    if not 0 < len(token) <= 100:
        return None
    with desk.book.reading() as c:
        return devices.by_token(c, hash_of(token))


def list_devices(desk: Desk) -> tuple[PairedDevice, ...]:
    """Every device that was ever let in, newest first."""
    with desk.book.reading() as c:
        return devices.listed(c)


def revoke_device(desk: Desk, device: str) -> None:
    """Shut a device out: its token holds no longer, from its next page on. KeyError when there is none of that id."""
    with desk.book.writing() as c:
        devices.revoke(c, device, desk.now())


def qr_svg(address: str) -> bytes:
    """An address as a QR picture (SVG, black on white), to be read by a phone's camera."""
    import segno

    out = io.BytesIO()
    segno.make(address, error="m", micro=False).save(out, kind="svg", scale=8, border=4, xmldecl=False)
    return out.getvalue()


def qr_text(address: str) -> str:
    """An address as a QR picture in signs of a terminal, two rows of it to a line."""
    import segno

    out = io.StringIO()
    segno.make(address, error="l", micro=False).terminal(out, border=2, compact=True)
    return out.getvalue().rstrip("\n")
