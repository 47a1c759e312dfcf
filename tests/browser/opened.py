"""The browser of these tests: Chromium, driven headless, with software 3D or with none."""

import shutil
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

CHROMIUM = shutil.which("chromium")
QUIET = [  # a closed network is no reason for the browser to complain
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-quic",
    "--disable-sync",
    "--no-first-run",
]
SOFTWARE_3D = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"]
NO_3D = ["--disable-gpu", "--disable-3d-apis"]


@dataclass
class Seen:
    """A page that is open, and what it complained about or asked for."""

    page: Any
    complaints: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)


Open = Callable[..., Seen]
