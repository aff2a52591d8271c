"""What pictures are made with, loaded sooner: without the manual of the artists' `set` methods.

matplotlib writes that text anew for every class whenever it is loaded, which takes a fifth of the
time, and no picture reads it. Where matplotlib was loaded before, nothing changes.
"""

import matplotlib.artist

_kwdoc = matplotlib.artist.kwdoc
matplotlib.artist.kwdoc = lambda artist: ""
try:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from matplotlib.patheffects import withStroke
finally:
    matplotlib.artist.kwdoc = _kwdoc

__all__ = ["Axes", "Figure", "withStroke"]
