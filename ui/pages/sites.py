"""The page of many sites, as the framework finds it: a file of its own beside the main page."""

from ui import words
from ui.look import page
from ui.programme import draw

page(words.MANY_SITES, draw)
