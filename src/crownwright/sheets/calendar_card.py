"""The mason's card (vCard 3.0, RFC 2426) and QR codes as SVG."""

from __future__ import annotations

import io

from crownwright.price.business import Business
from crownwright.sheets.calendar_text import escaped, folded


def vcard(business: Business) -> str:
    """Return the firm's card as a telephone takes it in."""
    street, place = (*business.address, "", "")[:2]
    rows = [
        ("VERSION", "3.0"),
        ("FN", escaped(business.name)),
        ("N", f"{escaped(business.name)};;;;"),
        ("ORG", escaped(business.name)),
        ("TEL;TYPE=WORK,VOICE", escaped(business.phone)),
        ("EMAIL;TYPE=INTERNET", escaped(business.email)),
        ("URL", business.web),
        ("ADR;TYPE=WORK", f";;{escaped(street)};{escaped(place)};;;" if street else ""),
        ("NOTE", escaped(business.licence)),
    ]
    lines = ["BEGIN:VCARD", *(f"{key}:{value}" for key, value in rows if value), "END:VCARD"]
    return "".join(f"{part}\r\n" for line in lines for part in folded(line))


def qr_svg(text: str, size: float = 30.0) -> str:
    """Return a QR code of a text as SVG, ``size`` mm wide with its quiet border; error correction M. ValueError when too long."""
    import segno

    code = segno.make(text, error="m", micro=False)
    out = io.BytesIO()
    width = code.symbol_size(border=4)[0]
    code.save(out, kind="svg", scale=size / width, unit="mm", border=4, xmldecl=False, dark="#000", light="#fff")
    return out.getvalue().decode()
