"""The layers hold: who may import whom, what pure code may not touch, and what a command may load."""

import ast
import json
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "tracker"
MAY_IMPORT = {
    "errors": set(),
    "plan": {"errors"},
    "words": {"errors", "plan"},
    "planfile": {"errors", "plan"},
    "sheet": {"errors", "plan", "words", "planfile"},
    "trying": {"errors", "plan", "words", "planfile"},
    "store": {"errors", "plan"},
    "schedule": {"errors", "plan"},
    "explain": {"errors", "plan", "schedule"},
    "report": {"errors", "plan", "schedule", "explain"},
    "render": {"errors", "report"},
    "cli": {
        "errors",
        "plan",
        "words",
        "planfile",
        "sheet",
        "trying",
        "store",
        "schedule",
        "explain",
        "report",
        "render",
    },
    "__init__": set(),
    "__main__": {"cli"},
}
PURE = {"errors", "plan", "words", "planfile", "sheet", "trying", "schedule", "explain", "report"}
OUTSIDE_PURE = {
    "sqlmodel",
    "sqlalchemy",
    "alembic",
    "typer",
    "openpyxl",
    "rich",
    "os",
    "sys",
    "sqlite3",
    "pathlib",
}
CLOCK_AND_FILES = {"open", "print", "input"}
CLOCK = {
    ("date", "today"),
    ("datetime", "now"),
    ("datetime", "today"),
    ("datetime", "utcnow"),
    ("time", "time"),
}
HEAVY = {"openpyxl", "networkx", "holidays", "numpy", "rich", "alembic"}
MOST_LINES = 350

FILES = sorted(path for path in PACKAGE.rglob("*.py") if "demo_db" not in path.parts)
TREES = {path: ast.parse(path.read_text(encoding="utf-8")) for path in FILES}


def name_of(path):
    return str(path.relative_to(ROOT))


def layer_of(path):
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imports(tree):
    """(module, node) of every import, nested ones too; a relative import counts as a module named '.'."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = "." if node.level else node.module or ""
            yield base, node
            if base == "tracker":
                yield from ((f"tracker.{alias.name}", node) for alias in node.names)


def top_level_imports(tree):
    """Imports that run when the module is loaded (not those in functions or for type checking)."""
    for node in tree.body:
        if isinstance(node, ast.Import | ast.ImportFrom):
            yield from imports(node)


every_file = pytest.mark.parametrize("path", FILES, ids=name_of)


@every_file
def test_a_layer_imports_only_what_stands_before_it(path):
    layer = layer_of(path)
    allowed = MAY_IMPORT[layer] | {layer}
    for module, _ in imports(TREES[path]):
        assert module != ".", "imports are absolute"
        if module.startswith("tracker."):
            assert module.split(".")[1] in allowed | {"__version__"}, f"{name_of(path)} imports {module}"


def test_every_folder_and_module_belongs_to_a_layer():
    found = {
        path.name.removesuffix(".py") for path in PACKAGE.iterdir() if path.suffix == ".py" or path.is_dir()
    }
    assert found - {"__pycache__", "demo_db"} == set(MAY_IMPORT)


@pytest.mark.parametrize("path", [path for path in FILES if layer_of(path) in PURE], ids=name_of)
def test_pure_code_reads_no_clock_and_touches_no_file(path):
    for module, _ in imports(TREES[path]):
        assert module.split(".")[0] not in OUTSIDE_PURE, module
    for node in ast.walk(TREES[path]):
        if isinstance(node, ast.Name):
            assert node.id not in CLOCK_AND_FILES, f"line {node.lineno}: {node.id}"
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            assert (node.value.id, node.attr) not in CLOCK, f"line {node.lineno}"


@every_file
def test_files_stay_small(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES


@every_file
def test_everything_public_says_what_it_is(path):
    tree = TREES[path]
    assert ast.get_docstring(tree), "the module"
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            assert ast.get_docstring(node), f"line {node.lineno}: {node.name}"
            for member in node.body:
                if isinstance(member, ast.FunctionDef) and not member.name.startswith("_"):
                    assert ast.get_docstring(member), f"line {member.lineno}: {node.name}.{member.name}"
    for node in tree.body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            assert ast.get_docstring(node), f"line {node.lineno}: {node.name}"


@every_file
def test_heavy_libraries_load_only_where_they_are_used(path):
    """The workbook's own modules may import theirs at the top: only the command that writes one loads them."""
    if path.name.startswith("workbook"):
        return
    for module, node in top_level_imports(TREES[path]):
        assert module.split(".")[0] not in HEAVY, f"line {node.lineno}: {module}"


LOADED = """
import json, sys
from tracker.cli.app import app
sys.argv[0] = "tracker"
try:
    app()
except SystemExit as end:
    code = end.code
sys.stderr.write("\\nloaded " + json.dumps([code, sorted({name.split(".")[0] for name in sys.modules})]))
"""


def loaded_by(database, *words):
    """The top-level modules a command loads in a fresh interpreter."""
    result = subprocess.run(
        [sys.executable, "-c", LOADED, "--db", str(database), *words],
        capture_output=True, text=True, check=False, cwd=database.parent,
    )  # fmt: skip
    code, modules = json.loads(result.stderr.rpartition("loaded ")[2])
    assert code in (0, None), result.stderr
    return set(modules)


@pytest.mark.parametrize(
    "command",
    [
        "in glass-sea 268 scrap 2", "promised licence 11dec", "undo 52", "", "forecast", "forecast --json", "late",
        "calls", "diary", "weeks", "licence", "moinho", "wave-1", "owed", "near", "gates", "promises", "closures", "sets", "mail varne",
        "try promised licence 11dec and set boxes lead=12wd", "try promised licence 11jan..26feb", "option", "option quick set boxes lead=12wd",
    ],
)  # fmt: skip
def test_everyday_commands_load_no_heavy_library(command, program):
    assert not loaded_by(program.database, *command.split()) & HEAVY


def test_help_opens_no_database_library(tmp_path):
    assert not loaded_by(tmp_path / "none.sqlite", "--help") & {"sqlmodel", "sqlalchemy", "sqlite3", *HEAVY}
