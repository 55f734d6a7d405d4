"""From what a phone's camera sends to pictures that can be shown: turned upright, without location, and small ones of them.

Nothing but the file's own first bytes says what it is; what a picture would unpack to is looked at before it is unpacked.
"""

from __future__ import annotations

import io
import threading
import warnings
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from crownwright.book.photos import Pictures
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from PIL.Image import Image

BIGGEST = 40_000_000  # bytes of the file
MOST_PIXELS = 120_000_000  # a phone's largest sensor today has 200 million, which it hands out binned to 50
LONGEST = 2560  # pixels of the upright picture's longer side
SMALL = 400
KINDS = {"JPEG", "PNG", "WEBP", "HEIF", "TIFF"}  # two pictures in one JPEG (MPO) are opened as a JPEG
TAKEN = (0x9003, 0x9004, 0x0132)  # DateTimeOriginal, DateTimeDigitized, DateTime (Exif 2.32, tables 8 and 4)


_ROOM = threading.BoundedSemaphore(
    2
)  # the largest picture takes a gigabyte while it is turned; twenty at once would take the machine


@dataclass(frozen=True, slots=True)
class Developed:
    """The pictures of one photo, and when it was taken by the camera's own clock, where it says so."""

    pictures: Pictures
    taken_at: str | None


def develop(data: bytes) -> Developed | Problem:
    """Read a photo and make its upright and small pictures; a problem with what to do where it cannot be read."""
    if not data:
        return Problem("photo", "the file is empty", "Take the photo again")
    if len(data) > BIGGEST:
        return Problem("photo", f"the file has {len(data) / 1e6:.0f} MB; {BIGGEST // 10**6} are the most", "Send a smaller one")
    from PIL.Image import DecompressionBombError

    try:
        with _ROOM:
            return _develop(data)
    except MemoryError:
        return Problem("photo", "the picture is too large for this machine", "Send a smaller one")
    except DecompressionBombError:
        return Problem("photo", f"the picture has more than {MOST_PIXELS // 10**6} million points", "Send a smaller one")
    except Exception:  # a damaged picture fails in as many ways as there are decoders
        return Problem("photo", "the file is damaged, or no picture", "Send a JPEG, PNG, WebP or HEIC picture")


def _develop(data: bytes) -> Developed | Problem:
    from PIL import ImageOps
    from PIL.Image import open as open_picture
    from pillow_heif import register_heif_opener

    register_heif_opener(thumbnails=False)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with open_picture(io.BytesIO(data), formats=sorted(KINDS)) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                millions = f"{opened.width * opened.height / 1e6:.0f} million points"
                most = f"{MOST_PIXELS // 10**6} are the most"
                return Problem("photo", f"the picture has {millions}; {most}", "Send a smaller one")
            exif = opened.getexif()
            taken = next((t for tag in TAKEN if (t := _time(exif.get(tag) or exif.get_ifd(0x8769).get(tag)))), None)
            opened.draft("RGB", (LONGEST, LONGEST))
            upright = ImageOps.exif_transpose(opened)
            upright.thumbnail((LONGEST, LONGEST))
            upright = upright.convert("RGB")
    small = upright.copy()
    small.thumbnail((SMALL, SMALL))
    return Developed(Pictures(data, _jpeg(upright, 85), _jpeg(small, 80)), taken)


def _jpeg(picture: Image, quality: int) -> bytes:
    from PIL.Image import frombytes

    out = io.BytesIO()
    bare = frombytes(picture.mode, picture.size, picture.tobytes())  # points alone: no tag of the camera's comes along
    bare.save(out, "JPEG", quality=quality, optimize=True)
    return out.getvalue()


def _time(text: object) -> str | None:
    try:
        return datetime.strptime(str(text)[:19], "%Y:%m:%d %H:%M:%S").isoformat()
    except ValueError:
        return None
