"""How the page looks: a plain document, for screens in light and dark and for A4 paper.

Colours reach a contrast of at least 4.5 to 1 against the paper (WCAG 2.2, criterion 1.4.3); no
meaning is carried by colour alone.
"""

from collections.abc import Mapping

LIGHT: Mapping[str, str] = {
    "paper": "#ffffff",
    "ink": "#1a1c1e",
    "soft": "#565a5e",
    "risk": "#8a2b06",
    "link": "#0b4f86",
    "line": "#b9bdc1",
}
DARK: Mapping[str, str] = {
    "paper": "#17191b",
    "ink": "#e9e6e1",
    "soft": "#b3afa8",
    "risk": "#ffb48c",
    "link": "#9ecbf2",
    "line": "#55595d",
}
"""`paper` behind `ink`, `soft` labels, `risk` warnings and `link`s; `line` rules tables."""

_RULES = """\
@page { size: A4; margin: 16mm 18mm; }
html { background: var(--paper); color: var(--ink); font: 1rem/1.5 Georgia, "Times New Roman",
  serif; }
body { margin: 0 auto; max-width: 44rem; padding: 1.5rem 1rem 3rem; overflow-wrap: anywhere; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: 0 0 1rem; }
h2 { border-top: 2px solid var(--line); font-size: 1.3rem; line-height: 1.25;
  margin: 2.2rem 0 0.8rem; padding-top: 0.9rem; }
h3 { font-size: 1.05rem; margin: 1.4rem 0 0.5rem; }
p { margin: 0.7rem 0; }
table { border-collapse: collapse; margin: 0.7rem 0; width: 100%; }
th, td { border-bottom: 1px solid var(--line); padding: 0.3rem 0.8rem 0.3rem 0; text-align: left;
  vertical-align: top; }
table:not(.facts) td, thead th { overflow-wrap: break-word; }
th[scope="row"] { min-width: 5.5rem; }
th { color: var(--soft); font-weight: 600; }
thead th { border-bottom-width: 2px; }
table.facts th { width: 30%; }
a { color: var(--link); }
a:focus-visible, .wide:focus-visible { outline: 2px solid var(--link); outline-offset: 2px; }
nav ul { columns: 2 14rem; list-style: none; margin: 1rem 0; padding: 0; }
nav a { display: inline-block; padding: 0.2rem 0; }
.wide { overflow-x: auto; }
.wide table { min-width: 30rem; }
.wide th, .wide td { overflow-wrap: normal; }
.wide th[scope="row"] { min-width: 2.5rem; }
.wide img { max-width: none; min-width: 36rem; width: 100%; }
@media screen and (prefers-color-scheme: dark) {
  .wide img { filter: invert(0.91) hue-rotate(180deg); }
}
pre { font: 0.85rem/1.45 ui-monospace, "DejaVu Sans Mono", monospace; white-space: pre-wrap; }
strong { color: var(--risk); }
code { font: 0.88em/1.4 ui-monospace, "DejaVu Sans Mono", monospace; }
figure { margin: 1.2rem 0; }
figure img { background: #ffffff; display: block; height: auto; max-width: 100%; }
summary { cursor: pointer; padding: 0.3rem 0; }
figcaption { color: var(--soft); font-size: 0.9rem; margin-top: 0.4rem; }
@media (max-width: 30rem) {
  table { font-size: 0.92rem; }
  th, td { padding-right: 0.5rem; }
}
@media print {
  body { font-size: 10.5pt; max-width: none; padding: 0; }
  h2, h3 { break-after: avoid; }
  table, tr, figure, p { break-inside: avoid; }
  .wide table { break-inside: auto; }
  figure img { max-height: 150mm; }
  .wide { overflow: visible; }
  .wide table, .wide img { min-width: 0; }
  .wide img { max-width: 100%; width: auto; }
  a { color: inherit; text-decoration: none; }
  nav, details { display: none; }
}
"""


def style_text() -> str:
    """The style sheet; paper is light whatever the screen was."""
    light, dark = _colours(LIGHT), _colours(DARK)
    return (
        f":root {{ color-scheme: light dark; {light} }}\n"
        f"@media screen and (prefers-color-scheme: dark) {{ :root {{ {dark} }} }}\n"
        f"@media print {{ :root {{ color-scheme: light; }} }}\n{_RULES}"
    )


def _colours(palette: Mapping[str, str]) -> str:
    return " ".join(f"--{name}: {value};" for name, value in palette.items())
