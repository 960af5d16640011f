"""Commands that write what somebody counted, fitted, signed, ordered, or corrects."""
