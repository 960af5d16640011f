"""The programs that go with the evidence: plain Python short enough for an auditor to read."""
