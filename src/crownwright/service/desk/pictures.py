"""From what a phone's camera sends to pictures that can be shown: turned upright, without location, and small ones of them.

Nothing but the file's own first bytes says what it is; what a picture would unpack to is looked at before it is unpacked.
"""

from __future__ import annotations

import io
import threading
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, TypeVar

from crownwright.book.photos import Pictures
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from PIL.Image import Image

BIGGEST = 40_000_000  # bytes of the file
MOST_PIXELS = 120_000_000  # a phone's largest sensor today has 200 million, which it hands out binned to 50
LONGEST = 2560  # pixels of the upright picture's longer side
PRINTED = 1100  # pixels; 85 mm on paper at 330 to the inch
SMALL = 400
KINDS = {"JPEG", "PNG", "WEBP", "HEIF", "TIFF"}  # two pictures in one JPEG (MPO) are opened as a JPEG
TAKEN = (0x9003, 0x9004, 0x0132)  # DateTimeOriginal, DateTimeDigitized, DateTime (Exif 2.32, tables 8 and 4)


Made = TypeVar("Made")
_ROOM = threading.BoundedSemaphore(2)
"""The largest picture takes a gigabyte while it is turned; twenty at once would take the machine."""


@dataclass(frozen=True, slots=True)
class Developed:
    """The pictures of one photo, and when it was taken by the camera's own clock, where it says so."""

    pictures: Pictures
    taken_at: str | None


def develop(data: bytes) -> Developed | Problem:
    """Read a photo and make its upright, printed and small pictures; a problem with what to do where it cannot be read."""
    return _read(data, lambda: _developed(data))


def print_size(data: bytes) -> bytes | Problem:
    """Read a photo and make the picture that papers show, and no other; problems as of `develop`."""

    def made() -> bytes | Problem:
        found = _upright(data, PRINTED)
        return found if isinstance(found, Problem) else _jpeg(found[0], 82)

    return _read(data, made)


def _read(data: bytes, make: Callable[[], Made | Problem]) -> Made | Problem:
    if not data:
        return Problem("photo", "the file is empty", "Take the photo again")
    if len(data) > BIGGEST:
        return Problem("photo", f"the file has {len(data) / 1e6:.0f} MB; {BIGGEST // 10**6} are the most", "Send a smaller one")
    from PIL.Image import DecompressionBombError

    try:
        with _ROOM:
            return make()
    except MemoryError:
        return Problem("photo", "the picture is too large for this machine", "Send a smaller one")
    except DecompressionBombError:
        return Problem("photo", f"the picture has more than {MOST_PIXELS // 10**6} million points", "Send a smaller one")
    except Exception:  # a damaged picture fails in as many ways as there are decoders
        return Problem("photo", "the file is damaged, or no picture", "Send a JPEG, PNG, WebP or HEIC picture")


def _developed(data: bytes) -> Developed | Problem:
    found = _upright(data, LONGEST)
    if isinstance(found, Problem):
        return found
    upright, taken = found
    paper = upright.copy()
    paper.thumbnail((PRINTED, PRINTED))
    small = paper.copy()
    small.thumbnail((SMALL, SMALL))
    return Developed(Pictures(data, _jpeg(upright, 85), _jpeg(paper, 82), _jpeg(small, 80)), taken)


def _upright(data: bytes, longest: int) -> tuple[Image, str | None] | Problem:
    """The picture turned upright, its longer side no more than so many pixels, and when it was taken."""
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
            opened.draft("RGB", (longest, longest))  # a JPEG is unpacked no larger than is needed
            opened.thumbnail((longest, longest))  # before it is turned: there is less of it to turn
            upright = ImageOps.exif_transpose(opened)
            return upright.convert("RGB"), taken


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
