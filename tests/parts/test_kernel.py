"""The kernel without what nothing here asks for: whole all the same to whoever asks for more."""

import subprocess
import sys

import pytest

LOADED = """
import sys
from hangpost.parts.kernel import load_kernel
load_kernel()
load_kernel()
import cadquery as cq
print(cq.Solid.makeBox(1, 2, 3).Volume(), "casadi" in sys.modules)
block = cq.Workplane().box(1, 2, 3).val()
print(isinstance(block, cq.Solid), cq.occ_impl.shapes.Solid is cq.Solid, type(cq).__name__)
print(block.Volume(), "vtk" in sys.modules, "vtkmodules.all" in sys.modules)
import vtk
print(block.toVtkPolyData().GetNumberOfCells() > 0, vtk.vtkVersion().GetVTKMajorVersion() >= 9)
"""
ELSEWHERE = """
import sys
from hangpost.parts import kernel
kernel.SHAPES = ("cadquery.no_such_module",)
kernel.load_kernel()
import cadquery
print("casadi" in sys.modules, "vtk" in sys.modules)
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
    little, unasked, *same, volume, screen, screens, shown, true = said(LOADED)
    assert float(little) == pytest.approx(6) and unasked == "False"
    assert same == ["True", "True", "module"]
    assert float(volume) == pytest.approx(6)
    assert [screen, screens, shown, true] == ["False", "False", "True", "True"]


def test_a_kernel_whose_shapes_lie_elsewhere_is_loaded_whole() -> None:
    assert said(ELSEWHERE) == ["True", "False"]


def test_what_is_loaded_already_stays() -> None:
    assert said(AFTER) == ["True", "True"]
