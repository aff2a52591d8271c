"""Texts and switches are taken as they were typed, without typer's conversion.

typer 0.29 converts every parameter through pydantic, which takes 60 ms to load and changes
nothing about a text. Should another version keep its converter elsewhere, all still works, slower.
"""

from typing import Any

_PLAIN = (str, str | None, bool, list[str], list[str] | None)


class AsTyped:
    """A command (mixed in before typer's class) that converts only what needs it."""

    def get_params(self, ctx: Any) -> Any:
        """All parameters, typer's own included."""
        parameters = super().get_params(ctx)  # type: ignore[misc]
        for parameter in parameters:
            described = getattr(parameter, "type_descriptor", None)
            plain = getattr(described, "annotation", None) in _PLAIN
            parameter._runtime_param = _Unconverted if plain else _WhenGiven
        return parameters


class _Unconverted:
    @staticmethod
    def coerce(value: Any, param: Any, ctx: Any) -> Any:
        return list(value) if isinstance(value, tuple) else value


class _WhenGiven:
    @staticmethod
    def coerce(value: Any, param: Any, ctx: Any) -> Any:
        if value is None:
            return None
        param._runtime_param = None
        return param.get_runtime_param().coerce(value, param=param, ctx=ctx)
