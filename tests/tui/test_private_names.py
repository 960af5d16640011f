"""No screen or widget of ours takes a private name of the library that draws it: ``_attach`` hung every screen, and
neither the type checker nor any error said a word."""

from __future__ import annotations

import ast
import inspect
import pkgutil
import textwrap
from collections.abc import Iterator
from functools import cache
from importlib import import_module

import pytest
from textual.screen import Screen

import tui

MEANT = {"_handle_exception", "_on_paste"}
"""Names of the library that are taken on purpose: the hooks it has for a crash, and for what is pasted."""


def classes_of_ours() -> list[type]:
    """Every class of the screens that is made from one of the library."""
    modules = [import_module(found.name) for found in pkgutil.walk_packages(tui.__path__, f"{tui.__name__}.")]
    found = {each for module in modules for each in vars(module).values() if isinstance(each, type)}
    return sorted((each for each in found if _is_ours(each) and any(_of_library(each))), key=lambda each: each.__name__)


def _is_ours(one: type) -> bool:
    return one.__module__.partition(".")[0] == tui.__name__


def _of_library(one: type) -> Iterator[type]:
    return (base for base in one.__mro__ if base.__module__.partition(".")[0] == "textual")


@cache
def private_names(one: type) -> frozenset[str]:
    """The private names of methods and fields that the source of a class gives to its objects."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(textwrap.dedent(inspect.getsource(one)))):
        match node:
            case ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name):
                names.add(name)
            case ast.Attribute(value=ast.Name(id="self"), attr=name, ctx=ast.Store()):
                names.add(name)
            case ast.Name(id=name, ctx=ast.Store()):
                names.add(name)
    return frozenset(name for name in names if name.startswith("_") and not name.startswith("__") and name != "_")


def taken(one: type) -> set[str]:
    """The private names of the library that a class of ours has as well."""
    theirs = frozenset[str]().union(*map(private_names, _of_library(one)))
    return {name for name in private_names(one) & theirs if hasattr(one, name) or f"self.{name}" in _source(one)}


def _source(one: type) -> str:
    return inspect.getsource(one)


@pytest.mark.parametrize("ours", classes_of_ours(), ids=lambda ours: str(ours.__name__))
def test_no_private_name_of_the_library_is_taken(ours: type) -> None:
    assert taken(ours) - MEANT == set()


def test_a_taken_name_would_be_found() -> None:
    class Hanging(Screen[None]):
        def _attach(self) -> None: ...  # type: ignore[override]

    class Forgetting(Screen[None]):
        def __init__(self) -> None:
            super().__init__()
            self._running = True

    assert "_attach" in taken(Hanging)
    assert "_running" in taken(Forgetting)
