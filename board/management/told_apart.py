"""Names of files that lie in several folders, or differ in their endings alone."""

from collections.abc import Iterable, Sequence
from pathlib import Path


def headings(paths: Sequence[Path]) -> list[str]:
    """Each file's name, with as many of its folders before it as tell it from all others."""
    return [_with_folders(path, [other for other in paths if other != path]) for path in paths]


def file_stems(names: Iterable[str]) -> list[str]:
    """For a file of each, all in one folder: without its ending where that is enough."""
    flat = [name.replace("/", "-") for name in names]
    stems = [Path(name).stem for name in flat]
    return [name if _times(stem, stems) > 1 else stem for name, stem in zip(flat, stems, strict=True)]


def _with_folders(path: Path, others: Sequence[Path]) -> str:
    names = (_last(path, n) for n in range(1, len(path.parts)) if _last(path, n) not in {_last(one, n) for one in others})
    return next(names, _last(path, len(path.parts)))


def _last(path: Path, n: int) -> str:
    return "/".join(path.parts[-n:]).lstrip("/")


def _times(stem: str, stems: Iterable[str]) -> int:
    """A disk may hold "A" and "a" for one."""
    return sum(stem.casefold() == other.casefold() for other in stems)
