"""Files that no row uses any more are removed once the change that left them alone is certain."""

from collections.abc import Iterable

from django.db import transaction
from django.db.models import Exists, OuterRef, Q, QuerySet

from board.models import Picture, ReviewSheet, Underlay
from board.picture_files import drop_file


def pictures_of_boards(boards: Iterable[int]) -> set[int]:
    boards = list(boards)
    of_board = Q(revisions__page__board__in=boards) | Q(photographed_revisions__page__board__in=boards)
    of_board |= Q(sheets__board__in=boards) | Q(references__board__in=boards)
    return set(Picture.objects.filter(of_board).values_list("pk", flat=True))


def unused_pictures() -> QuerySet[Picture]:
    """Those that nothing shows."""
    shown_by = [relation for relation in Picture._meta.related_objects if relation.name != "renditions"]
    showing = [one.related_model._default_manager.filter(**{one.field.name: OuterRef("pk")}) for one in shown_by]
    return Picture.objects.filter(*(~Exists(rows) for rows in showing))


def drop_unused_pictures(pictures: Iterable[int]) -> None:
    """Rows, originals and smaller copies of those of `pictures` that nothing shows any more."""
    hashes = list(Picture.objects.filter(pk__in=list(pictures)).order_by("sha256").values_list("sha256", flat=True))

    def drop() -> None:
        for sha256 in hashes:
            drop_picture_if_unused(sha256)

    transaction.on_commit(drop, robust=True)


@transaction.atomic
def drop_picture_if_unused(sha256: str, names: Iterable[str] = ()) -> bool:
    """`names`: of further files that hang on it alone.

    Who holds a picture's row holds its files: an upload of the same bytes waits for this, or this for it. Files without a row get
    one for that time.
    """
    picture, _ = Picture.objects.select_for_update().get_or_create(sha256=sha256, defaults={"size_bytes": 0})
    if not unused_pictures().filter(pk=picture.pk).exists():
        return False
    files = {picture.file_name, *(copy.file_name for copy in picture.renditions.all()), *names}
    picture.delete()
    for name in files:
        drop_file(name)
    return True


def drop_files_later(names: Iterable[str]) -> None:
    kept = list(names)

    def drop() -> None:
        for name in kept:
            if name:
                drop_file(name)

    transaction.on_commit(drop)


def drop_underlay_files(underlays: QuerySet[Underlay]) -> None:
    """Of rows that are about to go. Those that were asked for alike on two boards, over the same picture, have one set of files."""
    files = dict(underlays.values_list("digest", "files"))

    def drop() -> None:
        still_there = set(Underlay.objects.filter(digest__in=files).values_list("digest", flat=True))
        for digest, names in files.items():
            for name in names.values() if digest not in still_there else ():
                drop_file(name)

    transaction.on_commit(drop, robust=True)


def drop_review_sheets(sheets: QuerySet[ReviewSheet]) -> None:
    drop_files_later(sheets.values_list("file_name", flat=True))
    sheets.delete()
