"""The folders import downward only, everything that ships is listed, nothing local leaks in."""

import ast
import re
import tomllib
from collections.abc import Sequence
from fnmatch import fnmatch
from pathlib import Path

import pytest
from packaging.requirements import Requirement

ROOT = Path(__file__).parents[1]
FOLDERS = ("parts", "generators", "cli")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))

# Who may import whom, and which outside libraries are whose.
MAY_IMPORT = {"parts": set(), "generators": {"parts"}, "cli": {"parts", "generators"}}
NOT_FOR = {
    "parts": {"click", "ezdxf", "jinja2", "pydantic", "reportlab", "tomllib", "trimesh"},
    "generators": {"click"},
    "cli": {"OCP", "cadquery", "ezdxf", "fcl", "manifold3d", "reportlab", "trimesh"},
}

# The same inside generators, for each sub-package and each module beside them: itself is always
# allowed; a module that is not named (pack, verify and the like) may import every other one.
INSIDE_GENERATORS: dict[str, set[str]] = {
    "checks": set(),
    "spreadsheet": set(),
    "plain_file": set(),
    "one_line": set(),
    "survey": {"plain_file", "one_line", "strength"},  # strength: the names of woods
    "strength": {"checks"},
    "pivots": {"survey", "strength"},
    "hardware": {"survey", "pivots", "strength", "checks"},
    "told": {"checks", "survey"},
    "judging": {"survey", "pivots", "strength", "hardware", "checks", "told"},
    "clearance": {"survey", "pivots", "hardware", "checks"},
    "writers": {
        *("survey", "pivots", "hardware", "strength", "checks", "told"),
        *("spreadsheet", "plain_file", "one_line"),
    },
    "assembly": {"hardware"},
    "fitting": {"survey", "hardware", "checks", "swing", "gaps"},
    "report": {
        *("survey", "pivots", "hardware", "strength", "checks", "clearance", "writers"),
        *("assembly", "gaps", "shelf"),
    },
}

# Ours alone, so that a search does not wander into environments and build leavings.
TOP_LEVEL = (
    "README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", ".gitignore",
    ".ci", "parts", "generators", "cli", "tests", "benchmarks", "outputs_example",
)  # fmt: skip


def imports(source: Path) -> set[str]:
    """Full dotted names that a file imports, inside functions too."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(source.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{source}: a relative import hides where it points"
            names |= {f"{node.module}.{alias.name}" for alias in node.names}
    return names


def reached(folder: str, depth: int) -> dict[Path, set[str]]:
    """For each file below a folder the names of ours that it imports, at a depth below the root."""
    found = {}
    above = ["hangpost", folder][:depth]
    for source in sorted((ROOT / folder).rglob("*.py")):
        split = [name.split(".") for name in imports(source) if name.startswith("hangpost.")]
        found[source.relative_to(ROOT)] = {
            name[depth] for name in split if len(name) > depth and name[:depth] == above
        }
    return found


def defined_and_used(
    folders: Sequence[str],
) -> tuple[dict[tuple[str, str], Path], set[tuple[str, str]]]:
    """What each module defines at its top, and what anything that ships says of it.

    What a module names in `__all__` is for whoever imports it.
    """
    defined: dict[tuple[str, str], Path] = {}
    used: set[tuple[str, str]] = set()
    for source in (path for folder in folders for path in sorted((ROOT / folder).rglob("*.py"))):
        module = source.parent.name if source.stem == "__init__" else source.stem
        tree = ast.parse(source.read_text(encoding="utf-8"))
        alias: dict[str, str] = {}
        for node in ast.walk(tree):
            if isinstance(node, ast.Import | ast.ImportFrom):
                alias |= {name.asname or name.name: name.name for name in node.names}
                above = (getattr(node, "module", None) or "").split(".")[-1]
                used |= {(above, name.name) for name in node.names}
            elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
                used.add((module, node.id))
        for node in ast.walk(tree):
            if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
                used.add((alias.get(node.value.id, ""), node.attr))
        for node in tree.body:
            if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__":
                used |= {(module, name) for name in ast.literal_eval(node.value)}
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.decorator_list:
                defined[module, node.name] = source.relative_to(ROOT)
    return defined, used


def our_files() -> list[Path]:
    """Every file of the project, links to the source folders not followed."""
    tops = [ROOT / top for top in TOP_LEVEL if (ROOT / top).exists()]
    below = [path for top in tops if top.is_dir() for path in top.rglob("*")]
    return [
        path
        for path in [*tops, *below]
        if path.is_file() and "__pycache__" not in path.parts and "typing" not in path.parts
    ]


@pytest.mark.parametrize("folder", FOLDERS)
def test_imports_point_downward(folder: str) -> None:
    upward = {
        str(source): wrong
        for source, names in reached(folder, 1).items()
        if (wrong := names - MAY_IMPORT[folder] - {folder})
    }

    assert not upward


@pytest.mark.parametrize("folder", FOLDERS)
def test_a_folder_uses_only_its_own_libraries(folder: str) -> None:
    wrong = {
        str(source.relative_to(ROOT)): used
        for source in (ROOT / folder).rglob("*.py")
        if (used := {name.split(".")[0] for name in imports(source)} & NOT_FOR[folder])
    }

    assert not wrong


def test_nothing_ships_that_only_tests_use() -> None:
    """What is decorated, a command, a record or a cached function, is left out."""
    defined, used = defined_and_used(FOLDERS)
    idle = {f"{path}: {key[1]}" for key, path in defined.items() if key not in used}

    assert len(defined) > 500
    assert not idle


@pytest.mark.parametrize("step", INSIDE_GENERATORS)
def test_inside_generators_a_step_imports_earlier_steps_only(step: str) -> None:
    wrong = {
        str(source): later
        for source, names in reached("generators", 2).items()
        if source.parts[1].removesuffix(".py") == step
        and (later := names - INSIDE_GENERATORS[step] - {step})
    }

    assert not wrong


@pytest.mark.parametrize("folder", FOLDERS)
def test_typing_link_is_the_source_folder(folder: str) -> None:
    link = ROOT / "tests/typing/hangpost" / folder
    if not link.is_symlink():
        pytest.skip("checkout without symbolic links")

    assert link.resolve() == ROOT / folder


def test_every_folder_with_code_is_a_listed_package() -> None:
    listed = set(PROJECT["tool"]["setuptools"]["packages"])
    holders = {source.parent for folder in FOLDERS for source in (ROOT / folder).rglob("*.py")}
    there = {"hangpost." + ".".join(holder.relative_to(ROOT).parts) for holder in holders}

    assert listed == there
    assert all((holder / "__init__.py").is_file() for holder in holders)


def test_every_data_file_beside_the_code_is_shipped() -> None:
    patterns = PROJECT["tool"]["setuptools"]["package-data"]["*"]
    data = [
        path
        for path in our_files()
        if path.relative_to(ROOT).parts[0] in FOLDERS and path.suffix != ".py"
    ]
    missed = [path for path in data if not any(fnmatch(path.name, p) for p in patterns)]
    homeless = [path for path in data if not (path.parent / "__init__.py").is_file()]

    assert not missed
    assert not homeless, "a data folder is not a package: keep data beside the code"
    assert all((ROOT / folder / "py.typed").is_file() for folder in FOLDERS)


@pytest.mark.parametrize("lock", ["use", "dev"])
def test_lock_holds_what_the_project_asks_for(lock: str) -> None:
    project = PROJECT["project"]
    wanted = list(project["dependencies"])
    if lock == "dev":
        wanted += project["optional-dependencies"]["test"]
        wanted += project["optional-dependencies"]["dev"]
    text = (ROOT / f".ci/requirements-{lock}.lock").read_text(encoding="utf-8")
    locked: dict[str, list[str]] = {}
    for name, version in re.findall(r"^([\w.-]+)==([^\s;]+)", text, re.MULTILINE):
        locked.setdefault(plain(name), []).append(version)
    asked = [r for r in map(Requirement, wanted) if r.name != "hangpost"]
    stale = [
        str(r)
        for r in asked
        if not (have := locked.get(plain(r.name))) or not all(map(r.specifier.contains, have))
    ]

    assert asked
    assert not stale, "run .ci/lock"


def plain(name: str) -> str:
    """A package name as indexes compare it (PEP 503)."""
    return re.sub(r"[-_.]+", "-", name).lower()


# Written so that no pattern finds itself here.
LOCAL = re.compile(
    rb"(?<![\w.~-])/(?:work|opt|home|root|mnt)/\w"  # a folder of somebody's machine
    rb"|\bpypi[.]org|python[h]osted|deb[.]debian|registry[.]npmjs|--(?:extra-)?index-url"
)


def test_no_file_names_a_machine_or_a_registry() -> None:
    found = {
        str(path.relative_to(ROOT)): hits
        for path in our_files()
        if (hits := LOCAL.findall(path.read_bytes()))
    }

    assert not found


def test_no_long_dashes_in_what_we_write() -> None:
    written = [p for p in our_files() if p.suffix in {".py", ".md", ".toml", ".j2", ".csv"}]
    found = [str(p.relative_to(ROOT)) for p in written if "\u2014" in p.read_text(encoding="utf-8")]

    assert not found


def test_readme_gives_the_two_commands_that_ci_runs() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8").splitlines()

    assert "sh .ci/with-venv use hangpost demo -o demo-pack" in readme
    assert "sh .ci/with-venv dev pytest" in readme
