"""Reading of files: site, loads, outages and price list → one checked `Job`."""

from optimizer.inputs.chemistry import load_chemistries, shipped_chemistry_sources
from optimizer.inputs.load import load_job

__all__ = ["load_chemistries", "load_job", "shipped_chemistry_sources"]
