"""Image files to pages: PNG, JPEG, TIFF (every frame), WebP; EXIF orientation applied, every mode brought to RGB."""

from __future__ import annotations

import math
import warnings
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from PIL import Image as Pillow
from PIL import ImageOps, UnidentifiedImageError

from ingest.errors import Unreadable
from ingest.limits import DEFAULT, Limits
from ingest.page import Frame, Image, Page

FORMATS = ("PNG", "JPEG", "TIFF", "WEBP", "BMP", "GIF", "PPM")
"""What is opened; Pillow's other decoders are not offered hostile bytes."""

_SIXTEEN_BIT = ("I;16", "I;16B", "I;16L", "I;16N")
_TURNED_ORIENTATIONS = (5, 6, 7, 8)
_ORIENTATION_TAG = 0x0112


def image_pages(
    path: Path, sha256: str, limits: Limits = DEFAULT, only: int | None = None
) -> Iterator[Page | Unreadable]:
    """The frames of an image file in order, or the one that `only` names; one that cannot be read comes as its
    Unreadable. Raises Unreadable when the file as a whole cannot be read."""
    with _opened(path) as picture:
        frames = _frames(picture, path, limits) if only is None else 0
        for number in range(1, frames + 1) if only is None else (only,):
            try:
                yield _page(picture, path, sha256, number, limits)
            except Unreadable as fault:
                yield fault


def image_page_count(path: Path, limits: Limits = DEFAULT) -> int:
    """How many frames an image file has. Raises Unreadable as `image_pages` does."""
    with _opened(path) as picture:
        return _frames(picture, path, limits)


def _frames(picture: Pillow.Image, path: Path, limits: Limits) -> int:
    # A phone's JPEG that carries a preview or depth map calls itself MPO: the first frame is the photo.
    frames: int = 1 if picture.format == "MPO" else getattr(picture, "n_frames", 1)
    if frames > limits.pages:
        raise Unreadable(path, None, f"it has {frames} pages, {limits.pages} are read", "split the file")
    return frames


def _opened(path: Path) -> Pillow.Image:
    with warnings.catch_warnings():
        # Our own limits and errors decide; Pillow's warnings in between would only be noise.
        warnings.simplefilter("ignore")
        try:
            return Pillow.open(path, formats=FORMATS)
        except UnidentifiedImageError:
            why, remedy = (
                "it is no picture and no PDF that can be read",
                "save it as PNG, JPEG, TIFF, WebP or PDF",
            )
        except Pillow.DecompressionBombError:
            why, remedy = "it has more pixels than any page", "reduce it to 600 ppi or less"
        except (OSError, ValueError, SyntaxError) as fault:
            why, remedy = f"it is damaged ({_words(fault)})", "scan or export it again"
    raise Unreadable(path, None, why, remedy)


def _page(picture: Pillow.Image, path: Path, sha256: str, number: int, limits: Limits) -> Page:
    try:
        picture.seek(number - 1)
        width, height = picture.size
        if width * height > limits.pixels:
            megapixels = width * height / 1e6
            raise Unreadable(path, number, f"it has {megapixels:.0f} megapixels", "reduce it to 600 ppi or less")
        if min(width, height) < 1:
            raise Unreadable(path, number, "it is empty", "scan or export it again")
        turned = picture.getexif().get(_ORIENTATION_TAG, 1) in _TURNED_ORIENTATIONS
        # JPEG decodes straight to a fraction of its size, which saves most of the time on a large photo.
        wanted = _reduced((width, height), limits.working_pixels)
        if wanted != (width, height):
            picture.draft(None, wanted)
        upright = ImageOps.exif_transpose(picture)
        image = _rgb(upright, limits.working_pixels)
    except Unreadable:
        raise
    except (OSError, ValueError, SyntaxError, EOFError, MemoryError, TypeError) as fault:
        raise Unreadable(path, number, f"it is damaged ({_words(fault)})", "scan or export it again") from fault
    shown = (height, width) if turned else (width, height)
    frame = Frame(float(shown[0]), float(shown[1]), "px")
    return Page(path, sha256, number, frame, image, image.shape[1] / shown[0])


def _reduced(size: tuple[int, int], pixels: int) -> tuple[int, int]:
    factor = math.sqrt(pixels / (size[0] * size[1]))
    return size if factor >= 1 else (max(1, round(size[0] * factor)), max(1, round(size[1] * factor)))


def _rgb(picture: Pillow.Image, pixels: int) -> Image:
    if picture.mode in _SIXTEEN_BIT or picture.mode in ("I", "F"):
        picture = _eight_bit(picture)
    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        # Nothing is printed where a picture is transparent: paper shows.
        layered = picture.convert("RGBA")
        paper = Pillow.new("RGBA", layered.size, "white")
        picture = Pillow.alpha_composite(paper, layered)
    wanted = _reduced(picture.size, pixels)
    if picture.mode == "1":
        picture = picture.convert("L")
    if wanted != picture.size:
        # Greys of averaged ink keep what a bitonal scan says; convert to RGB only after the reduction to save memory.
        picture = picture.resize(wanted, Pillow.Resampling.BOX, reducing_gap=2.0)
    return np.ascontiguousarray(np.asarray(picture.convert("RGB"), dtype=np.uint8))


def _eight_bit(picture: Pillow.Image) -> Pillow.Image:
    """Deep greys to 8 bits: by the type's range for 16 bits, by the darkest and lightest value for wider types."""
    values = np.asarray(picture).astype(np.float64)
    if picture.mode in _SIXTEEN_BIT:
        low, high = 0.0, 65535.0
    elif values.size and values.min() >= 0 and values.max() <= 65535:
        low, high = 0.0, 65535.0 if values.max() > 255 else 255.0
    else:
        low, high = float(values.min(initial=0.0)), float(values.max(initial=1.0))
    scaled = (values - low) / max(high - low, 1e-9) * 255
    return Pillow.fromarray(np.clip(np.rint(scaled), 0, 255).astype(np.uint8))


def _words(fault: Exception) -> str:
    """The first line of a fault, without the path that some libraries put in."""
    return (str(fault).splitlines() or [type(fault).__name__])[0][:80]
