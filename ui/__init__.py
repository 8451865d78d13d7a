"""The page. It draws what the library answers and computes nothing itself."""
