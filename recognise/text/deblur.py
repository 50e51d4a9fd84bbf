"""Small type that a camera blurred, made sharp again by a Wiener filter.

A photo that is a little out of focus spreads each stroke as a Gauss curve does. The filter divides by that curve where
it left more than noise, and leaves the rest (R. Gonzalez, R. Woods, Digital Image Processing, chapter on restoration).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Grey = npt.NDArray[np.uint8]

_NOISE = 0.05
"""Power of the noise in that of the print: a smaller share makes grain of it, a larger one leaves it blurred."""
_RIM = 4.0
"""Blurs around the picture that are mirrored, so that its edges do not meet those of the other side."""


def sharpened(grey: Grey, blur: float) -> Grey:
    """A grey picture without a blur of so many pixels (the standard deviation of its curve)."""
    rim = int(_RIM * blur) + 1
    wide = np.pad(grey.astype(np.float64), rim, mode="symmetric")
    down, across = np.fft.fftfreq(wide.shape[0])[:, None], np.fft.fftfreq(wide.shape[1])[None, :]
    spread = np.exp(-2 * (np.pi * blur) ** 2 * (down**2 + across**2))
    mean = float(wide.mean())
    restored = np.fft.ifft2(np.fft.fft2(wide - mean) * spread / (spread**2 + _NOISE)).real + mean
    return np.asarray(np.clip(restored[rim:-rim, rim:-rim], 0, 255), dtype=np.uint8)
