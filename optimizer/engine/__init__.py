"""The optimum: columns, bounds, program, solver, verification, money, and why nothing fits."""
