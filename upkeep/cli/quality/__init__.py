"""Commands about what was found: checks, gauges, wear, faults, suspect product."""
