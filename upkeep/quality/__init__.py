"""Quality: gauges, checks, suspect product, and the causes of faults.  Pure rules; time and data are arguments."""
