"""How does text that somebody typed stay text, where Streamlit would read it as Markdown?"""

import re

_MARKED = re.compile(r"([\\`*_{}\[\]()#+\-.!|<>$:~&@])")


def md_escape(text: str) -> str:
    """The text with every sign that Markdown acts on made plain, on one line."""
    return _MARKED.sub(r"\\\1", " ".join(text.split()))
