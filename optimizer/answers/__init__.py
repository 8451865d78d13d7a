"""What is said of a design, or of a bank that stands: worked out here, worded in report."""
