"""Options that several commands take, each once."""

import click

from optimizer.cli.completing import changes, families, folders, sites
from optimizer.comparison.parameters import FAMILY_KINDS, Kind

site = click.argument("site", shell_complete=sites)
catalog = click.option(
    "--catalog",
    metavar="DIR",
    shell_complete=folders,
    help="Folder of the price list to use instead of the site's own.",
)
assumptions = click.option(
    "--assumptions", is_flag=True, help="Also list every number used, with its source."
)
family = click.option(
    "--family",
    metavar="NAME",
    shell_complete=families,
    help="Use only batteries of one family, such as lead or lithium.",
)
hours = click.option(
    "--hours",
    type=int,
    metavar="HOURS",
    help="Autonomy required, in whole hours.  [default: target_hours of the site]",
)
later_limit = click.option(
    "--later-limit",
    type=float,
    metavar="MONEY",
    help="Limit on what is bought in any one later year, in the site's currency.",
)
processes = click.option(
    "--processes",
    type=click.IntRange(1, 64),
    metavar="N",
    help="Processes that share the work.  [default: one for each core]",
)
charts = click.option(
    "--charts",
    "folder",
    metavar="DIR",
    shell_complete=folders,
    help="Also write the charts into this folder, as PNG and SVG.",
)
what_if = click.option(
    "--set",
    "changes",
    multiple=True,
    metavar="NAME=VALUE",
    shell_complete=changes,
    help="Change one number of the site for this answer: to a value (rate=12%), by a factor "
    "(outages=x2), up or down (room=+5, price:lithium=-20%). Repeat it for more numbers. Names: "
    f"{', '.join(kind + ':FAMILY' * (kind in FAMILY_KINDS) for kind in Kind)}; "
    "keeplit check SITE --what-if lists them with units and ranges.",
)
against = click.option(
    "--against",
    "held_against",
    multiple=True,
    metavar="SITE|NAME=VALUE",
    shell_complete=sites,
    help="Ask the same a second time and show both answers side by side: for another site, for "
    "SITE without --set, or with other numbers (--set rate=12% --against rate=3%). Repeat it for "
    "more numbers.",
)
