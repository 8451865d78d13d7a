"""What is said: one function a sentence, and the writer that knows the locale."""
