"""Files and nothing of what stands in them: limits, the one reader, the one writer."""
