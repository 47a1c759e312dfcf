"""The CAD kernel, loaded as quickly as it can be."""

import sys
from importlib import import_module
from types import ModuleType

SCREEN = "vtk"  # what shows solids on a screen


def load_kernel() -> None:
    """Import cadquery; whoever imports it later has it at once.

    Its bindings load the whole of VTK, which takes a third of the time and is never asked for
    here. An empty module stands in for it meanwhile; who wants VTK afterwards gets the true one.
    """
    if SCREEN in sys.modules:
        import_module("cadquery")
        return
    sys.modules[SCREEN] = ModuleType(SCREEN)
    try:
        import_module("cadquery")
    finally:
        del sys.modules[SCREEN]
