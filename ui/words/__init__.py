"""What a person reads on the page and nowhere else, in one folder.

What terminal and papers say too comes from `optimizer.report.words`.
"""

from ui.words.labels import *  # noqa: F403 - every text under one name
from ui.words.sentences import *  # noqa: F403
