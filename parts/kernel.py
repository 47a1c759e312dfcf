"""The CAD kernel, loaded as quickly as it can be."""

import sys
from importlib import import_module
from importlib.util import find_spec, module_from_spec
from types import ModuleType
from typing import Any, Final

KERNEL: Final = "cadquery"
SHAPES: Final = (f"{KERNEL}.occ_impl.geom", f"{KERNEL}.occ_impl.shapes")  # makes and measures
SCREEN: Final = "vtk"  # what shows solids on a screen


def load_kernel() -> None:
    """Import what of cadquery makes shapes and measures them; the rest when it is asked for.

    Its assemblies and exports load a solver and a second DXF library that are never asked for
    here. Its bindings load the whole of VTK: an empty module stands in for it meanwhile; who
    wants VTK afterwards gets the true one.
    """
    if KERNEL in sys.modules:
        return
    away = SCREEN not in sys.modules
    if away:
        sys.modules[SCREEN] = ModuleType(SCREEN)
    try:
        spec = find_spec(KERNEL)
        assert spec is not None, "cadquery is installed with this package"
        sys.modules[KERNEL] = package = module_from_spec(spec)
        package.__class__ = _Unread
        for name in SHAPES:
            import_module(name)
    except ImportError:  # another arrangement of cadquery: all of it, then
        sys.modules.pop(KERNEL, None)
        import_module(KERNEL)
    finally:
        if away:
            del sys.modules[SCREEN]


class _Unread(ModuleType):
    """A package of which only these modules are loaded; it is read when that is not enough."""

    def __getattr__(self, name: str) -> Any:
        """A name of theirs, or of the whole."""
        for module in SHAPES:
            if module in sys.modules and hasattr(sys.modules[module], name):
                return getattr(sys.modules[module], name)
        self.__class__ = ModuleType  # type: ignore[assignment]
        loader = getattr(self.__spec__, "loader", None)
        assert loader is not None, "a package that was found has one"
        loader.exec_module(self)
        return getattr(self, name)
