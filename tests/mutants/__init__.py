"""How much of the program is held by its tests: single small faults are planted, and the tests have to find them."""
