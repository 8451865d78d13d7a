"""Results as charts. Altair lives here and nowhere else; import a chart's module to draw it."""
