"""Pictures before they are drawn: their kind, how many pixels, whether they can be drawn at all."""

import io
import warnings

from optimizer.files.limits import LOGO_PIXELS
from optimizer.model.phrase import Phrase


def wrong_with(raw: bytes) -> Phrase | None:
    """Return what is wrong with a logo, or None.

    >>> wrong_with(b"GIF89a")
    'another kind of file'
    """
    from PIL import Image, UnidentifiedImageError  # noqa: PLC0415 - start-up time

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # its own bounds are wider than ours
        try:
            with Image.open(io.BytesIO(raw), formats=("PNG", "JPEG")) as picture:
                wide, high = picture.size
                if wide * high > LOGO_PIXELS:
                    return Phrase("{wide} × {high} pixels", wide=f"{wide:,}", high=f"{high:,}")
                picture.load()
        except UnidentifiedImageError:
            return Phrase("another kind of file")
        except Exception:
            return Phrase("a damaged picture")
    return None
