"""The page of many sites, as the framework finds it: a file of its own beside the main page."""

from ui.programme import main

main()
