"""Inequalities over knob names, such as `tRAS >= tRCD + 4`; nothing else can be written."""

import ast
import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

MAX_LENGTH = 200
_SUMS: dict[type[ast.operator], Callable[[Fraction, Fraction], Fraction]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}
_COMPARISONS: dict[type[ast.cmpop], Callable[[Fraction, Fraction], bool]] = {
    ast.LtE: operator.le,
    ast.Lt: operator.lt,
    ast.GtE: operator.ge,
    ast.Gt: operator.gt,
}
_Term = Callable[[Mapping[str, Fraction]], Fraction]


@dataclass(frozen=True)
class Inequality:
    """A checked inequality: `text` as written, `names` that it speaks of."""

    text: str
    names: frozenset[str]
    _left: _Term = field(compare=False, repr=False)
    _compare: Callable[[Fraction, Fraction], bool] = field(compare=False, repr=False)
    _right: _Term = field(compare=False, repr=False)

    def __call__(self, values: Mapping[str, float]) -> bool:
        """Whether it holds; a division by zero counts as broken."""
        try:
            return self._compare(*self.sides(values))
        except ZeroDivisionError:
            return False

    def sides(self, values: Mapping[str, float]) -> tuple[Fraction, Fraction]:
        """What stands left and right of the sign, in figures.

        Raises:
            ZeroDivisionError: a division by zero.
        """
        # Exactly, as people write them: 1.35 - 1.25 is 0.1.
        exact = {name: Fraction(repr(values[name])) for name in self.names}
        return self._left(exact), self._right(exact)


def parse_inequality(text: str) -> Inequality:
    """The inequality in `text`.

    Raises:
        ValueError: anything but one comparison of sums, products, numbers and names.
    """
    expected = "expected one inequality over knob names, such as 'tRAS >= tRCD + 4'"
    if len(text) > MAX_LENGTH:
        raise ValueError(f"{text[:40]!r}...: expected at most {MAX_LENGTH} characters")
    try:
        body = ast.parse(text.strip(), mode="eval").body
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        raise ValueError(f"{text!r}: {expected}") from None
    if not isinstance(body, ast.Compare) or len(body.ops) != 1:
        raise ValueError(f"{text!r}: {expected}")
    comparison = _COMPARISONS.get(type(body.ops[0]))
    if comparison is None:
        raise ValueError(f"{text!r}: {expected} (<=, <, >= or >)")
    left, right = _term(body.left, text), _term(body.comparators[0], text)
    names = frozenset(node.id for node in ast.walk(body) if isinstance(node, ast.Name))
    return Inequality(text, names, left, comparison, right)


def _term(node: ast.expr, text: str) -> _Term:
    match node:
        case ast.Name(id=name):
            return lambda values: values[name]
        case ast.Constant(value=int() | float() as number) if not isinstance(number, bool):
            exact = Fraction(repr(number))
            return lambda values: exact
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            inner = _term(operand, text)
            return lambda values: -inner(values)
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _SUMS:
            first, apply, second = _term(left, text), _SUMS[type(op)], _term(right, text)
            return lambda values: apply(first(values), second(values))
    raise ValueError(f"{text!r}: expected only names, numbers, + - * / and brackets")
