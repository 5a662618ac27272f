"""Files that no row uses any more are removed once the change that left them alone is certain."""

from collections.abc import Iterable

from django.db import transaction
from django.db.models import Q, QuerySet

from board.models import Picture, ReviewSheet
from board.picture_files import drop_file


def pictures_of_boards(boards: Iterable[int]) -> set[int]:
    boards = list(boards)
    of_board = Q(revisions__page__board__in=boards) | Q(photographed_revisions__page__board__in=boards)
    of_board |= Q(sheets__board__in=boards) | Q(references__board__in=boards)
    return set(Picture.objects.filter(of_board).values_list("pk", flat=True))


def drop_unused_pictures(pictures: Iterable[int]) -> int:
    """Rows, originals and smaller copies of those of `pictures` that nothing shows any more; how many they were."""
    shown_by = [relation.name for relation in Picture._meta.related_objects if relation.name != "renditions"]
    unused = Picture.objects.filter(pk__in=list(pictures), **{f"{name}__isnull": True for name in shown_by})
    unused = unused.prefetch_related("renditions")
    names = {one.sha256: [one.file_name, *(copy.file_name for copy in one.renditions.all())] for one in unused}
    Picture.objects.filter(sha256__in=names).delete()
    transaction.on_commit(lambda: _drop_files(names))
    return len(names)


def _drop_files(names: dict[str, list[str]]) -> None:
    """The same bytes may have been uploaded again meanwhile: then they stay."""
    back = set(Picture.objects.filter(sha256__in=names).values_list("sha256", flat=True))
    for sha256, files in names.items():
        for name in files if sha256 not in back else ():
            drop_file(name)


def drop_files_later(names: Iterable[str]) -> None:
    kept = list(names)

    def drop() -> None:
        for name in kept:
            if name:
                drop_file(name)

    transaction.on_commit(drop)


def drop_review_sheets(sheets: QuerySet[ReviewSheet]) -> None:
    drop_files_later(sheets.values_list("file_name", flat=True))
    sheets.delete()
