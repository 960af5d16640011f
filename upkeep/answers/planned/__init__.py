"""The week as it is planned: hours, the proposal, what was frozen; and the year ahead."""
