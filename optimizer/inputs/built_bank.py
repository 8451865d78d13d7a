"""Checks on a bank that code builds: its numbers against the facts that files are read by."""

from optimizer.errors import InputError
from optimizer.inputs.built import faults_of_keys, faults_of_rows
from optimizer.inputs.design_file import DesignKeys
from optimizer.model.existing import Existing


def checked_bank(existing: Existing) -> Existing:
    """Return what stands already; InputError with every number of it that is out of its range."""
    faults = [
        *faults_of_keys("design", "design", DesignKeys, existing),
        *faults_of_rows("batteries", [existing.battery]),
        *faults_of_rows("inverters", [existing.inverter]),
        *faults_of_rows("generators", [existing.generator] if existing.generator else []),
    ]
    if faults:
        raise InputError(faults)
    return existing
