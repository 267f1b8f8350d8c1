"""The pages' templates: they escape all input, and an undefined name is an error."""

from __future__ import annotations

from importlib.resources import files
from typing import TYPE_CHECKING, Any

from .layout import visible

if TYPE_CHECKING:
    from jinja2 import Template


def template_of(name: str) -> Template:
    """The template in the package file ``name``."""
    from jinja2 import Environment, FunctionLoader, StrictUndefined
    from markupsafe import Markup

    def shown(value: Any) -> Any:
        if isinstance(value, str) and not isinstance(value, Markup):
            return visible(value)
        return value

    def text(name: str) -> str:
        return files(__package__).joinpath(name).read_text("utf-8")

    environment = Environment(
        loader=FunctionLoader(text),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=shown,
    )
    return environment.get_template(name)
