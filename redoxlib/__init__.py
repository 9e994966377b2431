"""redoxlib: from a cheap reduced material to its oxidised form.

The names below load the part they live in on first use, so importing the package costs
next to nothing.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from importlib import import_module

__version__ = "0.1.0"
