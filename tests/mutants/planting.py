"""The small faults that can be planted in a source text: one node of its syntax tree, written another way.

Left alone are texts, f-strings, annotations, decorators, imports, protocols and the words of sentences: a fault in
these is for people who read them, or for the type checker.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass

_COMPARED: dict[type[ast.cmpop], tuple[str, tuple[str, ...]]] = {
    ast.Lt: ("<", ("<=", ">=")), ast.LtE: ("<=", ("<", ">")), ast.Gt: (">", (">=", "<=")), ast.GtE: (">=", (">", "<")),
    ast.Eq: ("==", ("!=",)), ast.NotEq: ("!=", ("==",)), ast.Is: ("is", ("is not",)), ast.IsNot: ("is not", ("is",)),
    ast.In: ("in", ("not in",)), ast.NotIn: ("not in", ("in",)),
}  # fmt: skip
_RECKONED: dict[type[ast.operator], tuple[str, str]] = {
    ast.Add: ("+", "-"), ast.Sub: ("-", "+"), ast.Mult: ("*", "/"), ast.Div: ("/", "*"), ast.FloorDiv: ("//", "*"),
    ast.Mod: ("%", "//"), ast.Pow: ("**", "*"), ast.BitOr: ("|", "&"), ast.BitAnd: ("&", "|"),
}  # fmt: skip
_WORDING = {"said", "said_many", "listed", "either", "in_turn", "Quoted", "Refused", "Unreadable", "NotFound"}
"""Calls whose arguments are words: what they say is not planted in."""


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault in a source: in which function and line, of which kind, and the bytes it writes over others."""

    function: str
    line: int
    kind: str
    start: int
    end: int
    old: str
    new: str

    def planted(self, source: bytes) -> bytes:
        """The source with this fault in it."""
        return source[: self.start] + self.new.encode() + source[self.end :]


def faults_in(source: bytes) -> list[Fault]:
    """All faults that can be planted in a source, in order."""
    return [fault for fault in _Planter(source).faults() if fault.old != fault.new]


def is_python(source: bytes) -> bool:
    """Whether Python can read a source: what it cannot is found by no test."""
    try:
        compile(source, "planted", "exec", dont_inherit=True)
    except SyntaxError:
        return False
    return True


Place = tuple[str, int, int, str]
"""A kind of fault, from where to where, and what is written there."""


class _Planter:
    """Walks a source; places are bytes from its beginning."""

    def __init__(self, source: bytes) -> None:
        self._source = source
        starts, place = [0], 0
        for row in source.splitlines(keepends=True):
            place += len(row)
            starts.append(place)
        self._starts = starts

    def faults(self) -> Iterator[Fault]:
        yield from self._walk(ast.parse(self._source), "")

    def _walk(self, node: ast.AST, function: str) -> Iterator[Fault]:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            if any(isinstance(base, ast.Name) and base.id == "Protocol" for base in getattr(node, "bases", [])):
                return
            function = f"{function}.{node.name}".lstrip(".")
        if isinstance(node, ast.expr | ast.stmt):
            yield from self._here(node, function)
        for child in _children(node):
            yield from self._walk(child, function)

    def _here(self, node: ast.expr | ast.stmt, function: str) -> Iterator[Fault]:
        for kind, start, end, new in self._written_otherwise(node):
            old = self._source[start:end].decode()
            yield Fault(function, node.lineno, kind, start, end, old, new)

    def _written_otherwise(self, node: ast.expr | ast.stmt) -> Iterator[Place]:
        if isinstance(node, ast.stmt):
            yield from self._statement(node)
        else:
            yield from self._signs(node)
            yield from self._values(node)
        if isinstance(node, ast.If | ast.IfExp | ast.While):
            yield "condition", *self._span(node.test), f"(not ({self._text(node.test)}))"

    def _statement(self, node: ast.stmt) -> Iterator[Place]:
        match node:
            case ast.Return(value=ast.expr() as value) if not _is_none(value):
                yield "return None", *self._span(node), "return None"
            case ast.Expr(value=ast.Call()) | ast.AugAssign() | ast.Raise() | ast.Continue() | ast.Break():
                yield "statement gone", *self._span(node), "pass"

    def _signs(self, node: ast.expr) -> Iterator[Place]:
        match node:
            case ast.Compare(left=left, ops=[compared], comparators=[right]):
                sign, others = _COMPARED[type(compared)]
                for other in others:
                    yield from self._between("comparison", left, right, sign, other)
            case ast.BinOp(left=left, op=reckoned, right=right) if type(reckoned) in _RECKONED:
                if not any(_is_text(side) for side in (left, right)):
                    yield from self._between("arithmetic", left, right, *_RECKONED[type(reckoned)])
            case ast.BoolOp(op=joined, values=[first, second, *_]):
                signs = ("and", "or") if isinstance(joined, ast.And) else ("or", "and")
                yield from self._between("and, or", first, second, *signs)
            case ast.UnaryOp(op=ast.Not(), operand=operand):
                yield "condition", *self._span(node), f"bool({self._text(operand)})"

    def _values(self, node: ast.expr) -> Iterator[Place]:
        match node:
            case ast.Constant(value=bool() as truth):
                yield "constant", *self._span(node), str(not truth)
            case ast.Constant(value=int() as number):
                yield "constant", *self._span(node), str(number + 1)
            case ast.Call(func=called, args=[first, second, *_] as given):
                if not any(isinstance(one, ast.Starred) for one in given) and not _in_any_order(called):
                    swapped = f"{self._text(second)}, {self._text(first)}"
                    yield "arguments swapped", self._span(first)[0], self._span(second)[1], swapped

    def _between(self, kind: str, left: ast.expr, right: ast.expr, sign: str, other: str) -> Iterator[Place]:
        """The sign between two expressions, past what closes or opens a parenthesis."""
        start, end = self._span(left)[1], self._span(right)[0]
        between = self._source[start:end].decode()
        pattern = re.escape(sign).replace(r"\ ", r"\s+")
        for found in re.finditer(pattern, re.sub(r"#.*", lambda remark: " " * len(remark[0]), between)):
            place = start + len(between[: found.start()].encode())
            yield kind, place, place + len(found[0]), other
            return

    def _span(self, node: ast.expr | ast.stmt) -> tuple[int, int]:
        assert node.end_lineno is not None
        assert node.end_col_offset is not None
        return (
            self._starts[node.lineno - 1] + node.col_offset,
            self._starts[node.end_lineno - 1] + node.end_col_offset,
        )

    def _text(self, node: ast.expr) -> str:
        start, end = self._span(node)
        return self._source[start:end].decode()


def _children(node: ast.AST) -> Iterator[ast.AST]:
    """The nodes below one in which faults are planted."""
    if isinstance(node, ast.JoinedStr | ast.Import | ast.ImportFrom | ast.Assert):
        return
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in _WORDING:
        return
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list", "bases", "type_comment", "func"):
            if name == "func" and isinstance(value, ast.Attribute):
                yield value.value
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST):
                yield child


def _is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _is_none(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and node.value is None


def _in_any_order(called: ast.expr) -> bool:
    return isinstance(called, ast.Name) and called.id in ("max", "min")
