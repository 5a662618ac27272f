"""Which page a picture's file name means. Pure rules; tests/vectors/page_names.json is the table that every language of them runs.

A name means a page by a number with a page word before it ("p03", "page 3"), else by its one number that is no version, chapter,
size or date; where names of one pattern stand together, by the number that changes between them. A name that does not tell goes
where it went before. Doubt is answered with a reason, never with a guess: a picture on the wrong page costs more than a question.
"""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

PAGE_WORDS = {"p", "pp", "pg", "pgs", "page", "pages", "pag", "pagina", "página", "seite", "sida", "spread"}
PANEL_WORDS = {"panel", "panels", "pnl"}
ALTERNATE_WORDS = {"alt", "alternate"}
# A number after one of these counts something else.
OTHER_WORDS = ALTERNATE_WORDS | {
    "v", "ver", "vers", "version", "r", "rev", "revision", "draft", "take", "try", "copy", "of",
    "ch", "chap", "chapter", "ep", "episode", "vol", "volume", "issue", "act", "scene", "part", "book",
    "img", "dsc", "dscn", "pxl",
}
UNITS = {"dpi", "ppi", "px", "mm", "cm", "in", "k", "bit"}
STAGE_WORDS = {
    "thumbnail": {"thumbnail", "thumbnails", "thumb", "thumbs", "rough", "roughs", "layout", "layouts"},
    "pencil": {"pencil", "pencils", "pencilled", "penciled"},
    "final": {"final", "finals", "ink", "inks", "inked"},
}
REASONS = ("no-number", "several-numbers", "no-such-page", "no-such-spread", "two-stages", "panel")
HIGHEST_PAGE = 9999
Numbers = Mapping[int, Sequence[int]]  # id of a page -> its one or two numbers
_ENDING = re.compile(r"(?<=[^/])\.[^./]*$")
_TOKEN = re.compile(r"[0-9]+|[^\W\d_]+")
_HUMP = re.compile(r"(?<=[a-z])(?=[A-Z])")
# 2026-11-28, 20261128, 14.32.05, 1200x1800
_NO_PAGE = re.compile(
    r"(?<![0-9])(?:(?:19|20)[0-9]{2}([-_.]?)[01][0-9]\1[0-3][0-9]"
    r"|[0-2][0-9]([.:])[0-5][0-9]\2[0-5][0-9]|[0-9]+ ?[x×] ?[0-9]+)(?![0-9])"
)
_COPY = re.compile(r"\([0-9]+\)$")
_JOIN = re.compile(r" ?[-–_+&] ?")


@dataclass(frozen=True)
class Token:
    gap: str  # what stands before it
    text: str  # a word in small letters, or a number

    @property
    def is_number(self) -> bool:
        return self.text[0] in "0123456789"

    @property
    def is_close(self) -> bool:
        """It belongs to the word before it: p03, p.03, page #3."""
        return len(self.gap) <= 2 and len(self.gap.strip()) <= 1


@dataclass(frozen=True)
class PageName:
    """What a name says by itself. `candidates`: place of their last token -> (n,), or (n, n + 1) for two pages in one picture."""

    tokens: Sequence[Token]
    stages: Sequence[str]
    candidates: Mapping[int, tuple[int, ...]] = field(default_factory=dict)

    @property
    def is_panel(self) -> bool:
        return any(token.text in PANEL_WORDS for token in self.tokens)

    @property
    def pattern(self) -> tuple[str, ...]:
        """Equal for names that differ in their numbers only."""
        return tuple("#" if token.is_number else token.text for token in self.tokens) + tuple(map(str, self.candidates))


@dataclass(frozen=True)
class NameMatch:
    """`page` is the id it goes to, or None with one of REASONS."""

    name: str
    page: int | None = None
    stage: str | None = None  # None: the name does not say
    alternate: str | None = None
    reason: str | None = None
    numbers: tuple[int, ...] = ()  # what was read, for the words beside a reason


def natural_key(name: str) -> tuple[tuple[int, int, str], ...]:
    """Sorts p2 before p10, whatever the case."""
    parts = re.findall(r"[0-9]+|[^0-9]+", unicodedata.normalize("NFKC", name).casefold())
    return tuple((0, int(part), "") if part[0] in "0123456789" else (1, 0, part) for part in parts)


def read_name(name: str) -> PageName:
    """Folders count for the stage only: pencils/03.png."""
    *folders, stem = _ENDING.sub("", unicodedata.normalize("NFKC", name).replace("\\", "/")).split("/")
    tokens = _tokens(stem)
    words = {token.text for part in [stem, *folders] for token in _tokens(part)}
    return PageName(tokens, [stage for stage, named in STAGE_WORDS.items() if named & words], _candidates(tokens))


def match_names(names: Sequence[str], pages: Numbers, earlier: Mapping[str, int] | None = None) -> list[NameMatch]:
    """`earlier`: a name as it was sent -> the id of the page it went to."""
    read = [read_name(name) for name in names]
    alike: dict[tuple[str, ...], list[PageName]] = {}
    for said in read:
        alike.setdefault(said.pattern, []).append(said)
    return [
        _match(name, said, _numbers_meant(said, alike[said.pattern]), pages, earlier or {})
        for name, said in zip(names, read, strict=True)
    ]


def _match(name: str, said: PageName, meant: list[tuple[int, ...]], pages: Numbers, earlier: Mapping[str, int]) -> NameMatch:
    numbers = tuple(dict.fromkeys(number for candidate in meant for number in candidate))
    if said.is_panel or len(said.stages) > 1:
        return NameMatch(name, reason="panel" if said.is_panel else "two-stages", numbers=numbers)
    stage = said.stages[0] if said.stages else None
    alternate = _alternate(said)
    if len(meant) == 1:
        page = next((pk for pk, its in pages.items() if set(numbers) <= set(its)), None)
        missing = "no-such-page" if len(numbers) == 1 else "no-such-spread"
        return NameMatch(name, page, stage, alternate, missing if page is None else None, numbers)
    if earlier.get(name) in pages:
        return NameMatch(name, earlier[name], stage, alternate, None, numbers)
    return NameMatch(name, None, stage, alternate, "several-numbers" if meant else "no-number", numbers)


def _numbers_meant(said: PageName, alike: Sequence[PageName]) -> list[tuple[int, ...]]:
    """The candidates; where one alone changes between names of the same pattern, that one."""
    changing = [place for place in said.candidates if len({other.candidates[place] for other in alike}) > 1]
    places = changing if len(changing) == 1 else list(said.candidates)
    return list(dict.fromkeys(said.candidates[place] for place in places))


def _tokens(stem: str) -> list[Token]:
    """Words and numbers, without dates, times, sizes and the number of a copy."""
    stem = _COPY.sub("", _NO_PAGE.sub(" | ", stem))
    tokens, end = [], 0
    for found in _TOKEN.finditer(stem):
        for place, word in enumerate(_HUMP.split(found.group())):
            tokens.append(Token("" if place else stem[end : found.start()], word.casefold()))
        end = found.end()
    return tokens


def _candidates(tokens: Sequence[Token]) -> dict[int, tuple[int, ...]]:
    marked: dict[int, tuple[int, ...]] = {}
    plain: dict[int, tuple[int, ...]] = {}
    place = 0
    while place < len(tokens):
        numbers, taken = _numbers_at(tokens, place)
        if numbers:
            is_marked = place and tokens[place].is_close and tokens[place - 1].text in PAGE_WORDS
            (marked if is_marked else plain)[place + taken - 1] = numbers
        place += taken
    return marked or plain


def _numbers_at(tokens: Sequence[Token], place: int) -> tuple[tuple[int, ...], int]:
    """The number or pair of numbers that starts here, () for none; and how many tokens that took."""
    first = _page_number(tokens, place)
    if first is None:
        return (), 1
    for ahead in (1, 2):  # 04-05, and p04-p05
        is_joined = place + ahead < len(tokens) and _JOIN.fullmatch(tokens[place + 1].gap)
        if is_joined and (ahead == 1 or tokens[place + 1].text in PAGE_WORDS) and _page_number(tokens, place + ahead) == first + 1:
            return (first, first + 1), ahead + 1
    return (first,), 1


def _page_number(tokens: Sequence[Token], place: int) -> int | None:
    token = tokens[place]
    if not token.is_number or not 0 < int(token.text) <= HIGHEST_PAGE:
        return None
    before = tokens[place - 1].text if place else ""
    is_try = before == "final" and not token.gap and token.text[0] != "0"  # final2
    after = tokens[place + 1] if place + 1 < len(tokens) else None
    is_measure = after is not None and after.text in UNITS and not after.gap.strip(" -")
    return None if is_try or is_measure or (token.is_close and before in OTHER_WORDS) else int(token.text)


def _alternate(said: PageName) -> str | None:
    """A letter right after the page's number (03b), or after the word for it (alt B)."""
    for place, token in enumerate(said.tokens[1:], 1):
        is_letter = len(token.text) == 1 and "a" <= token.text <= "z"
        if is_letter and (said.tokens[place - 1].text in ALTERNATE_WORDS or (not token.gap and place - 1 in said.candidates)):
            return token.text.upper()
    return None
