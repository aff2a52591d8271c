"""Colours of the pictures; meaning is carried by shapes and words, colours only help the eye.

The palette of Okabe and Ito, Color Universal Design (2008): told apart by colour-blind people;
the ones used here also differ in lightness, for print in grey.
"""

from matplotlib.patheffects import withStroke

INK = "#000000"
SOFT = "#444444"
"""Grey for conditions and grid labels: 9.7 to 1 against white."""
CURVE = "#0072B2"
"""Blue."""
FAILURE = "#D55E00"
"""Vermillion."""
RISK = "#E69F00"
"""Orange."""
SHUT = "#DDDDDD"
"""Grey past the last ceiling."""
RULE = "#CCCCCC"
"""Grid lines."""
HALO = [withStroke(linewidth=3, foreground="white")]
"""Keeps words readable on lines and hatching."""
THIN_HALO = [withStroke(linewidth=1.6, foreground="white")]
"""The same for a few small words close to marks."""
PASSED_TILE = (0.91, 0.95, 0.98)
"""Behind runs that passed: 17 to 1 under black words, and lighter in grey than the next."""
FAILED_TILE = (0.96, 0.75, 0.62)
"""Behind runs that failed: 13 to 1."""
UNTOLD_TILE = (0.96, 0.96, 0.96)
"""Behind runs that neither passed nor failed."""
