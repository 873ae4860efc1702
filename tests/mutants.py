# SPDX-License-Identifier: MIT
"""Break the package a little, many times, and count how often its own tests notice.

``python tests/mutants.py pressed panes --count 50`` changes one operator, number, comparison
or check of a module at a time, in a copy of the package, and runs the module's own tests
(doctests left out: their numbers are our own). A change that no test notices is either a hole
in the tests or no change in what the module does; the latter are listed in
``mutants_equivalent.csv`` with the reason.
"""

import argparse
import ast
import copy
import csv
import multiprocessing
import os
import random
import shutil
import sys
import tempfile
import time
from contextlib import redirect_stderr, redirect_stdout
from itertools import takewhile
from pathlib import Path

import pytest

HOUSE = Path(__file__).parent.parent
PROCESSES = multiprocessing.get_context("forkserver")
PROCESSES.set_forkserver_preload(["pytest", "hypothesis", "scipy.interpolate", "scipy.stats"])

# Module: its file under glasskit/ and its tests under tests/.
MODULES = {
    "pressed": ("crack/pressed.py", "crack/test_crack.py"),
    "panes": ("bending/panes.py", "bending/test_panes.py"),
    "bars": ("bending/bars.py", "bending/test_bars.py"),
    "quantities": ("quantities.py", "test_quantities.py"),
    "chances": ("demonstration/chances.py", "demonstration/test_chances.py"),
    "poll": ("room/poll.py", "room/test_poll.py"),
    "salt_bath": ("toughening/salt_bath.py", "toughening/test_salt_bath.py"),
}

_SWAPS = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
    ast.Mod: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
    ast.And: ast.Or,
    ast.Or: ast.And,
}
_COMPARISONS = {  # the limit itself, and the other side
    ast.Lt: (ast.LtE, ast.Gt),
    ast.LtE: (ast.Lt, ast.GtE),
    ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.LtE),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
}
_CALLS = {"max": "min", "min": "max", "maximum": "minimum", "minimum": "maximum"}
_CHECKS = ("finite", "positive", "non_negative", "in_range")  # hand back what they check
_REFUSALS = ("require", "one_of")


def others(node):
    """Yield what may stand in place of `node`, each a small mistake."""
    match node:
        case ast.BinOp() | ast.BoolOp() if type(node.op) in _SWAPS:
            yield _with(node, op=_SWAPS[type(node.op)]())
        case ast.UnaryOp(op=ast.USub() | ast.Not() | ast.Invert()):
            yield node.operand
        case ast.Compare(ops=[op]):
            for kind in _COMPARISONS[type(op)]:
                yield _with(node, ops=[kind()])
        case ast.Constant(value=bool()):
            yield ast.Constant(not node.value)
        case ast.Constant(value=int()):
            yield ast.Constant(node.value + 1)
        case ast.Constant(value=float()):
            yield ast.Constant(1.1 * node.value or 1.0)
        case ast.If() | ast.IfExp():
            yield _with(node, test=ast.UnaryOp(ast.Not(), node.test))
        case ast.Expr(value=ast.Call(func=ast.Name(id=name))) if name in _REFUSALS:
            yield ast.Pass()
        case ast.Call(func=ast.Name(id=name)) if name in _CHECKS:
            yield (
                ast.parse(f"np.asarray({ast.unparse(node.args[1])}, dtype=float)")
                .body[0]
                .value
            )
        case ast.Call(func=ast.Name(id=name)) if name in _CALLS:
            yield _with(node, func=ast.Name(_CALLS[name]))
        case ast.Call(func=ast.Name(id="abs")):
            yield node.args[0]
        case ast.Call(func=ast.Attribute(attr=name)) if name in _CALLS:
            yield _with(node, func=_with(node.func, attr=_CALLS[name]))
        case ast.Call(func=ast.Attribute(attr="abs")):
            yield node.args[0]


def _with(node, **changes):
    changed = copy.copy(node)
    for field, value in changes.items():
        setattr(changed, field, value)
    return changed


def places(node):
    """Yield every place that a reader of results can feel: holder, field, index, node."""
    for field, value in ast.iter_fields(node):
        if field in ("annotation", "returns", "decorator_list"):
            continue
        items = value if isinstance(value, list) else [value]
        for index, item in enumerate(items):
            # No texts: what a sentence says is not what a number is.
            if isinstance(item, ast.AST) and not isinstance(item, ast.JoinedStr):
                yield node, field, index if isinstance(value, list) else None, item
                yield from places(item)


def mutants(source):
    """Yield line, what stood there, what stands there now, and the source of every mistake."""
    tree = ast.parse(source)
    statements = {
        id(part): statement
        for statement in ast.walk(tree)
        if isinstance(statement, ast.stmt)
        for part in ast.walk(statement)
    }  # the innermost wins: walk goes from the outside in
    for holder, field, index, node in list(places(tree)):
        for other in others(node):
            statement = statements[id(node)]
            before = ast.unparse(statement)
            _put(holder, field, index, other)
            after = ast.unparse(other if node is statement else statement)
            text = ast.unparse(ast.fix_missing_locations(tree))
            yield node.lineno, *_where_they_differ(before, after), text
            _put(holder, field, index, node)


def _where_they_differ(before, after, around=32):
    """Cut off what two statements have in common, but for a little on either side."""
    start = _alike(before, after)
    end = _alike(before[start:][::-1], after[start:][::-1])
    first, last = max(start - around, 0), max(end - around, 0)
    return tuple(text[first : len(text) - last].partition("\n")[0] for text in (before, after))


def _alike(one, other):
    return sum(
        1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False))
    )


def _put(holder, field, index, node):
    if index is None:
        setattr(holder, field, node)
    else:
        getattr(holder, field)[index] = node


def passes(tests, folder, seconds=None):
    """Whether the tests pass in a folder; what never ends has been noticed."""
    trial = PROCESSES.Process(target=_try, args=(tests, folder))
    trial.start()
    trial.join(seconds)
    if trial.is_alive():
        trial.kill()
        trial.join()
    return trial.exitcode == 0


def _try(tests, folder):
    os.chdir(folder)
    sys.path.insert(0, str(folder))
    sys.dont_write_bytecode = True
    options = ["-x", "-q", "-p", "no:cacheprovider", "-o", "addopts=--import-mode=importlib"]
    with open(os.devnull, "w") as nowhere, redirect_stdout(nowhere), redirect_stderr(nowhere):
        sys.exit(pytest.main([*options, *map(str, tests)]))


def known_equivalent():
    """Return the changes that are none: module, before and after."""
    with Path(__file__).with_name("mutants_equivalent.csv").open(encoding="utf-8") as lines:
        return {(row["module"], row["before"], row["after"]) for row in csv.DictReader(lines)}


def measure(name, count, seed, folder):
    """Return how many mutants of a module there are, were tried, noticed and are no change."""
    file, test = MODULES[name]
    target, tests = folder / "glasskit" / file, [folder / "tests" / test]
    source = target.read_text(encoding="utf-8")
    every = list(mutants(source))
    chosen = sorted(
        random.Random(seed).sample(every, min(count, len(every))), key=lambda m: m[0]
    )
    same = known_equivalent()
    started = time.monotonic()
    assert passes(tests, folder), f"{test} fails before anything is changed"
    patience = 60 + 10 * (time.monotonic() - started)
    noticed = none = 0
    for line, before, after, text in chosen:
        target.write_text(text, encoding="utf-8")
        if not passes(tests, folder, patience):
            noticed += 1
        elif (name, before, after) in same:
            none += 1
        else:
            print(f"{name}:{line} not noticed\n    {before}\n    {after}", flush=True)
    target.write_text(source, encoding="utf-8")
    return len(every), len(chosen), noticed, none


def main():
    """Print the table of mutants."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("modules", nargs="*", default=list(MODULES), help=", ".join(MODULES))
    parser.add_argument("--count", type=int, default=50, help="mutants of each module")
    parser.add_argument("--seed", type=int, default=7, help="which of them")
    given = parser.parse_args()
    rows = []
    os.environ["OPENBLAS_NUM_THREADS"] = (
        "1"  # small matrices: threads stand in each other's way
    )
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        for part in ("glasskit", "tests"):
            shutil.copytree(
                HOUSE / part, folder / part, ignore=shutil.ignore_patterns("__pycache__")
            )
        shutil.copy(HOUSE / "pyproject.toml", folder)
        for name in given.modules:
            rows.append((name, *measure(name, given.count, given.seed, folder)))
    print("| module | mutants | tried | noticed | no change | share noticed of true changes |")
    print("|---|---|---|---|---|---|")
    for name, every, tried, noticed, none in rows:
        share = noticed / (tried - none)
        print(f"| {name} | {every} | {tried} | {noticed} | {none} | {share:.0%} |")


if __name__ == "__main__":
    main()
