"""Every text that a person reads on the page, in one folder, so that another language can come.

What the library says of faults, requirements and purchases comes from `optimizer`.
"""

from ui.words.fixed import *  # noqa: F403 - every text under one name
from ui.words.sentences import *  # noqa: F403
