"""Do imports go one way only? A file may import from its own layer or a lower one, never from a higher."""

import ast
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]

LAYERS: list[tuple[str, ...]] = [
    ("engine.units",),
    ("engine.draw.*",),
    ("engine.formulas.*",),
    ("engine.fields.*",),
    ("engine.models", "engine.refusals"),
    ("engine.paper.*",),
    ("engine.catalogue.*",),
    ("engine.night", "engine.design", "engine.recipe"),
    ("engine.comparison",),
    ("engine.layout",),
    ("engine.quantities.*",),
    ("engine.stand",),
    ("engine.loft",),
    ("engine.bill",),
    ("engine.warmth",),
    ("engine.score",),
    ("engine.steep",),
    ("engine.checks.*",),
    ("engine.damp", "engine.air", "engine.shortfall", "engine.joint_uses"),
    ("engine.bench.polygons", "engine.bench.skyline", "engine.bench.piece_model", "engine.bench.surplus"),
    (
        "engine.bench.pieces",
        "engine.bench.shell_pieces",
        "engine.bench.panel_pieces",
        "engine.bench.strip_pieces",
        "engine.bench.small_pieces",
    ),
    ("engine.bench.lay_items", "engine.bench.lay"),
    ("engine.fit", "engine.cautions.*", "engine.bands", "engine.shopping"),
    ("engine.explore.*",),
    ("engine.evaluate",),
    ("engine.picture.*",),
    ("engine.bench.*",),
    ("engine.budget",),
    ("engine.export.*",),
    ("sample_designs",),
    ("engine.samples",),
    ("engine",),
    ("dashboard.*",),
]
"""Lowest first. A new module of the engine must be given its place here."""

NOT_IN_ENGINE = ("streamlit", "pandas", "plotly")
WITHOUT_STREAMLIT = (
    "dashboard.charts",
    "dashboard.close_up_figures",
    "dashboard.section_figures",
    "dashboard.try_figure",
    "dashboard.try_words",
    "dashboard.words",
    "dashboard.palette",
)


@cache
def modules() -> dict[str, Path]:
    """Every module of ours by its dotted name; a package is named without `__init__`."""
    found = {}
    for package in ("engine", "dashboard", "sample_designs"):
        for path in sorted((ROOT / package).rglob("*.py")):
            parts = path.relative_to(ROOT).with_suffix("").parts
            found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def layer_of(module: str) -> int | None:
    """The place of a module in the table; `a.b.*` also stands for `a.b` itself."""
    for place, names in enumerate(LAYERS):
        for name in names:
            stem = name.removesuffix(".*")
            if module == stem or (name.endswith(".*") and module.startswith(stem + ".")):
                return place
    return None


def imports(source: str, module: str) -> set[str]:
    """What a file imports, at any depth in it: our modules in full, others as written."""
    names = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module}, line {node.lineno}: write the import in full, not relative"
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                names.add(inner if inner in modules() else str(node.module))
    return names


@cache
def our_imports() -> dict[str, set[str]]:
    return {name: imports(path.read_text("utf-8"), name) for name, path in modules().items()}


def test_every_module_has_a_place_in_the_layers():
    homeless = [name for name in modules() if layer_of(name) is None]
    assert not homeless, f"give these a place in LAYERS: {', '.join(homeless)}"


def test_no_arrow_goes_backwards():
    placed = {name: place for name in modules() if (place := layer_of(name)) is not None}
    backwards = [
        f"{module} imports {target}"
        for module in placed
        for target in our_imports()[module]
        if placed.get(target, placed[module]) > placed[module]
    ]
    assert not backwards, "\n".join(backwards)


def test_no_module_imports_itself_by_a_detour():
    graph = {
        module: {t for t in targets if t in modules() and t != module}
        for module, targets in our_imports().items()
    }
    while free := [module for module, targets in graph.items() if not targets & graph.keys()]:
        for module in free:
            del graph[module]
    assert not graph, f"these import each other in a ring: {', '.join(graph)}"


@pytest.mark.parametrize("library", NOT_IN_ENGINE)
def test_the_engine_knows_no_screen(library):
    users = [
        module
        for module, targets in our_imports().items()
        if module.split(".")[0] == "engine" and library in {target.split(".")[0] for target in targets}
    ]
    assert not users, f"{library} is imported by {', '.join(users)}"


def test_figures_words_and_colours_know_no_streamlit():
    users = [
        module
        for module in WITHOUT_STREAMLIT
        if "streamlit" in {target.split(".")[0] for target in our_imports().get(module, ())}
    ]
    assert not users, f"streamlit is imported by {', '.join(users)}"


def test_every_formula_names_its_source():
    """A public function of engine/formulas says 'Source' in its docstring."""
    formulas = {}
    for module, path in modules().items():
        if module.startswith("engine.formulas."):
            for node in ast.parse(path.read_text("utf-8")).body:
                if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                    formulas[f"{module}.{node.name}"] = ast.get_docstring(node) or ""
    assert formulas, "no formula found: is engine/formulas where it was?"
    silent = [name for name, text in formulas.items() if "Source" not in text]
    assert not silent, f"no Source in the docstring of {', '.join(silent)}"


def test_every_module_opens_with_a_sentence():
    """A file that only marks a folder as a package may be empty."""
    trees = {name: ast.parse(path.read_text("utf-8")) for name, path in modules().items()}
    mute = [name for name, tree in trees.items() if tree.body and not ast.get_docstring(tree)]
    assert not mute, f"no opening sentence in {', '.join(mute)}"


@pytest.mark.parametrize(
    "line, found",
    [
        ("import engine.score", "engine.score"),
        ("from engine.units import Number", "engine.units"),
        ("from engine import units", "engine.units"),
        ("def f():\n    from engine.units import Number", "engine.units"),
    ],
)
def test_the_reader_of_imports_sees_every_way_to_write_one(line, found):
    assert found in imports(line, "example")
