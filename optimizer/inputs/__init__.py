"""Reading of files: site, loads, outages and price list → one checked `Job`.

Everywhere in this room ``faults`` takes all that is wrong, in the order of files and rows; a reader
goes on after a fault, so that all of them are told at once, and returns None or nothing for what
could not be read.
"""

from optimizer.inputs.catalog import PRICE_TABLES
from optimizer.inputs.chemistry import load_chemistries, shipped_chemistry_sources
from optimizer.inputs.draft import (
    LOAD_COLUMNS,
    TABLES,
    Draft,
    RawTable,
    draft_from_files,
    load_rows,
    loads_table,
    log_table,
    raw_table,
    survey_rows,
    window_text,
)
from optimizer.inputs.load import job_from_data, load_job

__all__ = [
    "LOAD_COLUMNS",
    "PRICE_TABLES",
    "TABLES",
    "Draft",
    "RawTable",
    "draft_from_files",
    "job_from_data",
    "load_chemistries",
    "load_job",
    "load_rows",
    "loads_table",
    "log_table",
    "raw_table",
    "shipped_chemistry_sources",
    "survey_rows",
    "window_text",
]
