"""The demo plant: a crimp shop of our own invention, with the definition files a real plant would write (``files/``)
and a generator of its history.  Nobody and nothing in it is real; it is there to try the program on and to learn it.

Nothing heavy loads here: :mod:`demo_plant.environment` runs before anything is installed.
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from upkeep.plant.definition import Definition


def definitions() -> tuple[Definition, ...]:
    """The demo plant's definitions, read from its own files, also from an installed wheel."""
    from importlib.resources import as_file, files

    from upkeep.plant.files import read_definitions

    with as_file(files("demo_plant").joinpath("files")) as folder:
        return read_definitions(folder)
