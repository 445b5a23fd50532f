"""How the page of HTML looks: one style sheet, coloured from the palette."""

from string import Template

from floorpan.checks.finding import WORST_FIRST
from floorpan.report.palette import EDGE, GROUND, INK, INK2, LINE, colour

_STYLE = Template("""\
body { margin: 0; background: $ground; color: $ink; font: 15px/1.4 "Source Sans Pro", "Source Sans 3",
  system-ui, sans-serif; font-variant-numeric: tabular-nums; }
main, footer { max-width: 62rem; margin: 0 auto; padding: 1.5rem; }
.title { display: flex; gap: 2rem; justify-content: space-between; align-items: end; border-bottom: 2px solid $ink; }
h1 { font-size: 1.9rem; line-height: 1.15; margin: 0 0 .4rem; }
h1 small { display: block; font-size: 1.1rem; font-weight: 600; color: $ink2; overflow-wrap: anywhere; }
h2 { font-size: 1.4rem; margin: 2.6rem 0 .5rem; border-bottom: 1px solid $line; }
h3 { font-size: 1.05rem; margin: 1.4rem 0 .3rem; overflow-wrap: anywhere; }
p { margin: .4rem 0; overflow-wrap: anywhere; }
.title p { margin: 0 0 .4rem; text-align: right; color: $ink2; white-space: nowrap; }
.second, td small { color: $ink2; font-size: .88em; }
.cure { font-style: italic; }
.item { margin: .7rem 0; }
.spot { display: flex; gap: .8rem; border: 2px solid $edge; border-radius: 3px; padding: .8rem 1rem; margin: 1rem 0; }
.spot strong { font-size: 1.2rem; overflow-wrap: anywhere; }
.spot svg { flex: none; }
table { border-collapse: collapse; margin: .4rem 0 1rem; width: 100%; }
.wide { overflow-x: auto; }
.beside { display: flex; gap: 1.5rem; align-items: center; flex-wrap: wrap; }
.beside .wide { flex: 1; }
th { font-weight: 400; font-size: .85em; color: $ink2; text-align: left; border-bottom: 1.5px solid $ink;
  padding: .15rem .4rem; }
th[colspan] { font-weight: 600; border-bottom: 0; text-align: center; }
td { border-bottom: 1px solid $line; padding: .3rem .4rem; vertical-align: top; overflow-wrap: anywhere; }
td small { display: block; }
.right { text-align: right; white-space: nowrap; }
.center { text-align: center; white-space: nowrap; }
td.muted { color: $edge; }
td svg { vertical-align: -.1em; margin-right: .3em; }
td.boxed { outline: 1.5px solid; outline-offset: -2px; }
figure { margin: 1rem 0; }
figcaption { font-weight: 600; }
figure img { max-width: 100%; height: auto; }
.sign { margin-top: 3rem; width: 18rem; border-top: 1px solid $ink; color: $ink2; font-size: .88em; }
footer { color: $ink2; font-size: .85em; border-top: 1px solid $line; overflow-wrap: anywhere; }
@media print { h2 { break-before: page; } tr, figure { break-inside: avoid; } }
""")


def page_style() -> str:
    """The style sheet's text."""
    roles = {"ground": GROUND, "ink": INK, "ink2": INK2, "line": LINE, "edge": EDGE}
    verdicts = "".join(
        f".spot.{verdict} {{ border-color: {colour(verdict)}; }}\n"
        f"td.boxed.{verdict} {{ outline-color: {colour(verdict)}; }}\n"
        for verdict in WORST_FIRST
    )
    return _STYLE.substitute({name: colour(role) for name, role in roles.items()}) + verdicts
