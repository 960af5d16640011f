"""``python3 -m demo_plant``: makes the environment, then shows the demo plant; its options are those of the command."""

import sys

from demo_plant.environment import become

if __name__ == "__main__":
    become("strokebook", ["demo", *sys.argv[1:]])
