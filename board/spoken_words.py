"""What is said in a panel, line by line, and how many words a reader has to read there."""

import re
from dataclasses import dataclass

LONGEST_NAME = 40
SPEECH = re.compile(r"(?P<who>[^:：]+)[:：]\s*(?P<words>.*)$")
ASIDE = re.compile(r"\([^)]*\)")
# Letters and figures that hang together, also by an apostrophe or a hyphen. Where a language puts no blanks between words, a whole
# clause is one: its counts tell little.
WORD = re.compile(r"\w+(?:['’\-‐‑]\w+)*")


@dataclass(frozen=True)
class SpokenLine:
    """`who` as it stands, in capitals, with any aside ("PIM (off)"); empty where the line names nobody."""

    who: str
    words: str

    @property
    def speaker(self) -> str:
        """Without the aside: one and the same from panel to panel."""
        return ASIDE.sub("", self.who).strip()


def spoken_lines(said: str) -> list[SpokenLine]:
    """The lines of what is said, as NAME: words; bare ones are left out."""
    return [_line(line.strip()) for line in said.splitlines() if line.strip()]


def _line(line: str) -> SpokenLine:
    speech = SPEECH.match(line)
    if speech and is_speaker(speech["who"]):
        return SpokenLine(speech["who"].strip(), speech["words"].strip())
    return SpokenLine("", line)


def is_speaker(words: str) -> bool:
    """In capitals, but for what stands in brackets; and no sentence. Common practice of typed scripts, no source."""
    name = ASIDE.sub("", words).strip()
    has_letters = any(letter.isalpha() for letter in name) and not any(letter.islower() for letter in name)
    return has_letters and len(name) <= LONGEST_NAME and name[-1] not in ".!?…,;"


def count_words(text: str) -> int:
    return len(WORD.findall(text))


def words_said(said: str) -> int:
    """How many words are read in what is said: names of who speaks are not lettered."""
    return sum(count_words(line.words) for line in spoken_lines(said))
