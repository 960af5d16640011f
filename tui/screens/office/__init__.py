"""The desk of the office: weekly lists that came back."""
