"""The kernel without what shows solids on a screen: whole all the same."""

import subprocess
import sys

LOADED = """
import sys
from hangpost.parts.kernel import load_kernel
load_kernel()
load_kernel()
import cadquery as cq
block = cq.Workplane().box(1, 2, 3).val()
print(block.Volume(), "vtk" in sys.modules, "vtkmodules.all" in sys.modules)
import vtk
print(block.toVtkPolyData().GetNumberOfCells() > 0, vtk.vtkVersion().GetVTKMajorVersion() >= 9)
"""
AFTER = """
import vtk
from hangpost.parts.kernel import load_kernel
load_kernel()
import sys
print(sys.modules["vtk"] is vtk, "cadquery" in sys.modules)
"""


def said(script: str) -> list[str]:
    run = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr
    return run.stdout.split()


def test_the_kernel_is_whole_and_what_stood_in_is_gone() -> None:
    volume, *rest = said(LOADED)
    assert abs(float(volume) - 6) < 1e-9
    assert rest == ["False", "False", "True", "True"]


def test_what_is_loaded_already_stays() -> None:
    assert said(AFTER) == ["True", "True"]
