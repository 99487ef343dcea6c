"""How could a module be wrong in one place? Each answer is one of its functions or tables, spoilt there and nowhere else."""

import ast
import operator
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any

OTHERWISE: dict[type[ast.AST], tuple[type[ast.AST], ...]] = {
    ast.Lt: (ast.LtE, ast.Gt), ast.LtE: (ast.Lt, ast.Gt), ast.Gt: (ast.GtE, ast.Lt), ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,), ast.NotEq: (ast.Eq,), ast.Is: (ast.IsNot,), ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,), ast.NotIn: (ast.In,), ast.And: (ast.Or,), ast.Or: (ast.And,),
    ast.Add: (ast.Sub,), ast.Sub: (ast.Add,), ast.Mult: (ast.Div,), ast.Div: (ast.Mult,), ast.BitAnd: (ast.BitOr,),
}  # fmt: skip
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any", "sorted": "list", "reversed": "iter"}
SKIPPED = ("annotation", "returns", "decorator_list", "type_params")
"""Where nothing is decided."""


@dataclass(frozen=True)
class Mutant:
    line: int
    was: str
    now: str
    inside: ast.stmt
    """The function or table that it spoils."""
    owner: str | None
    """The class that it is a method of."""
    code: CodeType
    reached: range
    """Lines of which one is run before it makes a difference."""

    def put(self, module: ModuleType, others: list[ModuleType]) -> None:
        """Spoil the module as it is loaded: for good, so in a process of its own."""
        spoilt = dict(vars(module))
        exec(self.code, spoilt)
        if isinstance(self.inside, ast.FunctionDef):
            there = vars(getattr(module, self.owner)) if self.owner else vars(module)
            true, new = _function(there[self.inside.name]), spoilt[self.inside.name]
            true.__code__, true.__defaults__, true.__kwdefaults__ = new.__code__, new.__defaults__, new.__kwdefaults__
            return
        meant = [(name, vars(module)[name], value) for name, value in spoilt.items() if vars(module).get(name) is not value]
        for name, true, value in meant:
            for each in others:
                if vars(each).get(name) is true:
                    setattr(each, name, value)


def _function(found: Any) -> Any:
    """The function behind a property, a class method and the like."""
    names = ("fget", "func", "__wrapped__", "__func__")
    return next((_function(getattr(found, name)) for name in names if hasattr(found, name)), found)


def mutants(file: Path) -> Iterator[Mutant]:
    """What stands in a class besides its methods is left as it is: it is loaded once and for all."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    for index, top in enumerate(tree.body):
        if isinstance(top, ast.ClassDef):
            methods = [each for each in top.body if isinstance(each, ast.FunctionDef)]
            yield from (mutant for each in methods for mutant in _mutants_in(each, [each], top.name))
        elif isinstance(top, ast.FunctionDef):
            yield from _mutants_in(top, [top])
        elif isinstance(top, ast.Assign | ast.AnnAssign) and not _is_type(top):
            # What is made of a table is made anew.
            later = [each for each in tree.body[index:] if isinstance(each, ast.Assign | ast.AnnAssign)]
            yield from _mutants_in(top, [each for each in later if not _is_type(each)])


def _mutants_in(top: Any, run: list[Any], owner: str | None = None) -> Iterator[Mutant]:
    top.decorator_list = []
    for node, is_asked, put, reached in _places(top, _head(top)):
        was = ast.unparse(node)
        tried = {was}
        for other in (*_variants(node), *([ast.Constant(True), ast.Constant(False)] if is_asked else ())):
            put(ast.copy_location(other, node))
            now = ast.unparse(other)
            if now not in tried:
                tried.add(now)
                module = ast.fix_missing_locations(ast.Module(run, []))
                yield Mutant(node.lineno, was, now, top, owner, compile(module, "<spoilt>", "exec"), reached)
            put(node)


def _places(parent: ast.AST, reached: range) -> Iterator[tuple[Any, bool, Callable[[ast.AST], None], range]]:
    """Every node below that has a line, whether it is a condition, how to put another in its place, and the lines of its statement."""
    for name, value in ast.iter_fields(parent):
        if name in SKIPPED or isinstance(parent, ast.JoinedStr | ast.Import | ast.ImportFrom):
            continue
        for index, node in enumerate(value if isinstance(value, list) else [value]):
            if not isinstance(node, ast.AST) or _is_docstring(node):
                continue
            lines = _head(node) if isinstance(node, ast.stmt) else reached
            if isinstance(node, ast.expr | ast.stmt | ast.pattern):
                in_list = partial(operator.setitem, value, index)
                yield node, name in {"test", "guard", "ifs"}, in_list if isinstance(value, list) else partial(setattr, parent, name), lines
            yield from _places(node, lines)


def _head(statement: Any) -> range:
    """The lines of a statement without those of the statements in it."""
    within = [each for field in ("body", "cases") for each in getattr(statement, field, ())]
    first = min((each.lineno if isinstance(each, ast.stmt) else each.pattern.lineno for each in within), default=statement.end_lineno + 1)
    return range(statement.lineno, max(first, statement.lineno + 1))


def _is_docstring(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def _is_type(node: ast.AST) -> bool:
    """Whether it names a type: such names are not in capitals, or made by TypeVar."""
    if not (isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name)):
        return False
    name, value = node.targets[0].id, ast.unparse(node.value)
    return value.startswith("TypeVar") or (isinstance(node.value, ast.BinOp | ast.Subscript) and name != name.upper())


def _variants(node: ast.AST) -> Iterator[ast.AST]:
    match node:
        case ast.Compare(left=left, ops=[op], comparators=rest):
            yield from (ast.Compare(left, [other()], rest) for other in OTHERWISE[type(op)])
        case ast.BoolOp(op=op, values=values):
            yield ast.BoolOp(OTHERWISE[type(op)][0](), values)
            yield from (kept[0] if len(kept) == 1 else ast.BoolOp(op, kept) for kept in _one_left_out(values))
        case ast.BinOp(left=left, op=ast.BitOr(), right=right):
            yield from (left, right)
        case ast.BinOp(left=left, op=op, right=right):
            yield from (ast.BinOp(left, other(), right) for other in OTHERWISE.get(type(op), ()))
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            yield operand
        case ast.Constant(value=bool(value)):
            yield ast.Constant(not value)
        case ast.Constant(value=int(value) | float(value)):
            yield from (ast.Constant(value + 1), ast.Constant(value - 1))
        case ast.Constant(value=str(value)) if value and " " not in value:
            yield ast.Constant("?")
        case ast.Set(elts=elts):
            yield from (ast.Set(kept) for kept in _one_left_out(elts))
        case ast.Tuple(elts=elts, ctx=ast.Load()) | ast.List(elts=elts, ctx=ast.Load()):
            yield from (type(node)(kept, ast.Load()) for kept in _one_left_out(elts))
        case ast.Dict(keys=keys, values=values):
            pairs = _one_left_out(list(zip(keys, values, strict=True)))
            yield from (ast.Dict([key for key, _ in kept], [value for _, value in kept]) for kept in pairs)
        case ast.MatchOr(patterns=patterns):
            yield from (kept[0] if len(kept) == 1 else ast.MatchOr(kept) for kept in _one_left_out(patterns))
        case ast.Return(value=ast.expr()):
            yield ast.Return(ast.Constant(None))
        case ast.Name(id=name, ctx=ast.Load()) if name in NAMES:
            yield ast.Name(NAMES[name], ast.Load())
        case ast.Expr() | ast.AugAssign() | ast.Continue():
            yield ast.Pass()


def _one_left_out(values: list[Any]) -> Iterator[list[Any]]:
    return (values[:index] + values[index + 1 :] for index in range(len(values)))
