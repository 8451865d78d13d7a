"""Labels and helps of the page, and the sentences that it alone says, under one name.

What terminal and papers say too comes from the other files of `optimizer.report.words`.
"""

from optimizer.report.words.forms import *  # noqa: F403 - every text under one name
from optimizer.report.words.page import *  # noqa: F403
from ui.words.forms import *  # noqa: F403
from ui.words.labels import *  # noqa: F403
