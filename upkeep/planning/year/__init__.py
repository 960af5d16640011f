"""The year ahead: when recurring work begins so that weeks are level, and what a year may bring under a policy."""
