"""Every sentence that a person reads, collected from templates, Python and scripts into docs/wording/sentences.txt.

`.venv/bin/python tests/wording.py` renews the file. One sentence a line behind its file, in the order of the source. In
a template's sentence "[a|b]" stands for what a condition or a loop chooses, "{{ }}" for what is filled in.
"""

import ast
import re
import shlex
import sys
import tomllib
from html.parser import HTMLParser
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SENTENCES = ROOT / "docs" / "wording" / "sentences.txt"
COMMAND = ".venv/bin/python tests/wording.py"
ROOMS = ("jobs", "parts", "workshop")
UNSPOKEN_MODULES = ("settings.py", "access.py", "urls.py")

NAMES = {"label", "help_text", "verbose_name", "verbose_name_plural", "title", "legend", "placeholder", "description"}
"""Keyword arguments whose string is read by people even when it is a single word."""
SPOKEN_ATTRIBUTES = ("title", "aria-label", "placeholder", "alt")
SPOKEN_LITERALS = re.compile(
    r'(?:default|default_if_none|yesno|pluralize|add|label|words|title|legend)[:=](?:_\()?"([^"]+)"'
)
"""Words that a tag of the template language is given, marked for translation or not."""
WITHIN_A_SENTENCE = frozenset(
    ("a", "abbr", "b", "br", "code", "em", "i", "kbd", "output", "small", "span", "strong", "sub", "sup")
)
WORDS = re.compile(r"[A-Za-z’']{2,}[,;:.]? [\w{(±“]|[A-Za-z]{3,}[.:?]$")
"""Two words, or the end of a sentence."""
CODE = re.compile(
    r"^(SELECT|INSERT|UPDATE|DELETE|CREATE|DROP|PRAGMA|ALTER|VACUUM|WITH|BEGIN|REPLACE|MATCH|ANALYZE|ROLLBACK)\b|__|;$|"
    r"^[a-z]+ = |^[\w-]+(\.[\w-]+)+$|^[a-z]\w* [a-z]\w*-[\w{}-]+$|[<>]\w+[ =/]|\{ ?size:|filename=|urlencode|"
    r"getattr\(row|no-store|default-src|@page|\\d|max-age|charset|%[ds]\b|\bstroke|\bserif|monospace|ISOLATION|Quantity\("
)
"""What looks like words and is SQL, markup or a name of the program."""


def sentences_of_python(source):
    """The string literals of a module that a person reads; what is filled in stands in braces."""
    tree = ast.parse(source)
    unread, named = set(), set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            unread.add(id(node.value))
        elif isinstance(node, ast.JoinedStr):
            unread.update(id(inner) for inner in ast.walk(node) if inner is not node)
        elif isinstance(node, ast.Call):
            named.update(map(id, _labels_of_call(node)))
            unread.update(map(id, node.args[:1] if ast.unparse(node.func) == "pgettext" else ()))
        elif isinstance(node, ast.ClassDef) and any("Choices" in ast.unparse(base) for base in node.bases):
            named.update(
                id(_within(line.value.elts[-1]))
                for line in node.body
                if isinstance(getattr(line, "value", 0), ast.Tuple)
            )
    strings = [node for node in ast.walk(tree) if isinstance(node, (ast.Constant, ast.JoinedStr))]
    for node in sorted(strings, key=lambda node: (node.lineno, node.col_offset)):
        words = "" if id(node) in unread else _text(node)
        if (id(node) in named or WORDS.search(words)) and re.search("[A-Za-z]{2}", words) and not CODE.search(words):
            yield words


def _within(node):
    """The string itself of one that is marked for translation."""
    return node.args[0] if isinstance(node, ast.Call) and node.args else node


def _labels_of_call(call):
    """The arguments of a call that are labels: by their name, marked, or as the first one of a field or a group."""
    yield from (word.value for word in call.keywords if word.arg in NAMES)
    name = ast.unparse(call.func)
    if name in ("lazy", "lazy_plural"):
        yield from call.args[:2]
    if call.args and (name == "Group" or (name.startswith("models.") and name.endswith("Field"))):
        yield call.args[0]


def _text(node):
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) else ""
    filled = (value if isinstance(value, ast.Constant) else f"{{{ast.unparse(value.value)}}}" for value in node.values)
    return "".join(piece if isinstance(piece, str) else _text(piece) for piece in filled)


class _Page(HTMLParser):
    """The texts of a page: what stands between block elements, and the attributes that are read out or shown."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.sentences, self.words, self.silent = [], "", 0

    def handle_starttag(self, tag, attributes):
        self._part(tag, 1)
        self.sentences += [value or "" for name, value in attributes if name in SPOKEN_ATTRIBUTES]

    def handle_endtag(self, tag):
        self._part(tag, -1)

    def handle_data(self, words):
        self.words += "" if self.silent else words

    def _part(self, tag, step):
        self.silent += step * (tag == "script")
        if tag not in WITHIN_A_SENTENCE:
            self.sentences.append(self.words)
            self.words = ""


def sentences_of_template(source):
    """The texts of a template, conditions and loops as brackets; the words within its tags come last."""
    source = re.sub(r"\{#.*?#\}|\{% comment %\}.*?\{% endcomment %\}", "", source, flags=re.DOTALL)
    page, literals = _Page(), []
    page.feed(re.sub(r"\{%.*?%\}|\{\{.*?\}\}", lambda match: _tag(match.group(), literals), source))
    page.handle_endtag("body")
    for words in page.sentences + literals:
        sentence = _balanced(words).strip(" []|·")
        if re.search("[A-Za-z]{2}", re.sub(r"\{\{.*?\}\}", "", sentence)):
            yield sentence


def _tag(tag, literals):
    """What stands for a tag of the template language; the words of its filters and arguments go to `literals`."""
    words = tag[2:-2].split()
    spoken = re.findall(
        r'(?:default|default_if_none|yesno|pluralize|add|label|words|title|legend)[:=](?:_\()?"([^"]+)"', tag
    )
    literals += [literal for literal in spoken if re.search("[A-Za-z]{3}", literal)]
    if tag.startswith("{{"):
        return "{{ " + re.sub(r"[<>\"&]", "", words[0].split("|")[0]) + " }}"
    if words[0] in ("translate", "trans"):
        return shlex.split(tag[2:-2])[1]
    if words[0] == "plural":
        return " | "
    if words[0] in ("if", "for", "ifchanged"):
        return "["
    if words[0] in ("else", "elif", "empty"):
        return "|"
    return "]" if words[0] in ("endif", "endfor", "endifchanged") else ""


def _balanced(words):
    """The words without brackets that open or close in another text."""
    kept, opened = list(words), []
    for place, letter in enumerate(words):
        if letter == "[":
            opened.append(place)
        elif letter == "]" and opened:
            opened.pop()
        elif letter in "]|" and not opened:
            kept[place] = " "
    for place in opened:
        kept[place] = ""
    return " ".join("".join(kept).split())


def sentences_of_script(source):
    """The texts of a page's script."""
    source = re.sub(r"/\*.*?\*/|^\s*//.*?$|\s//\s.*?$", "", source, flags=re.DOTALL | re.MULTILINE)
    for quote in re.finditer(r"\"([^\"\n]*)\"|`([^`]*)`", source):
        words = quote[1] or quote[2] or ""
        if WORDS.search(words) and not re.search(r"[<>=\[\]#]|use strict|^[a-z]+ [a-z]+$|^\.", words):
            yield words


def sentences_of_toml(source):
    """The texts of a file of words, as the cards of the dimensions are."""
    for text in _strings_in(tomllib.loads(source)):
        if WORDS.search(text) and not CODE.search(text):
            yield text


def _strings_in(node):
    if isinstance(node, str):
        yield node
    for inner in node.values() if isinstance(node, dict) else node if isinstance(node, list) else ():
        yield from _strings_in(inner)


READERS = {
    ".py": sentences_of_python,
    ".html": sentences_of_template,
    ".js": sentences_of_script,
    ".toml": sentences_of_toml,
}


def sources():
    """The files that a person reads from, sorted."""
    spoken = (path for room in ROOMS for ending in ("*.py", "*.toml") for path in (ROOT / room).rglob(ending))
    places = [*spoken, *(ROOT / "templates").rglob("*.html")]
    for path in sorted([*places, *(ROOT / "static" / "js").glob("*.js")]):
        if "migrations" not in path.parts and path.name not in UNSPOKEN_MODULES:
            yield path


def sentences():
    """Every (file, sentence), each sentence once a file."""
    for path in sources():
        read = READERS[path.suffix](path.read_text(encoding="utf-8"))
        for words in dict.fromkeys(" ".join(words.split()) for words in read):
            yield path.relative_to(ROOT).as_posix(), words


def as_text():
    """The whole file, one sentence a line."""
    return "".join(f"{name}: {words}\n" for name, words in sentences())


if __name__ == "__main__":
    SENTENCES.parent.mkdir(parents=True, exist_ok=True)
    SENTENCES.write_text(as_text(), encoding="utf-8")
    sys.stdout.write(f"{SENTENCES.relative_to(ROOT)} is renewed.\n")
