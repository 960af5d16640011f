"""How parts wear and how long they last."""
