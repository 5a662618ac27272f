/** Where one is among the notes, while they are drawn anew around one. */

export function placeOfFocus(list) {
  const item = document.activeElement?.closest(".note");
  return item && list.contains(item) ? { note: item.dataset.note, place: [...list.children].indexOf(item) } : null;
}

/** What had the focus is gone (a note put away, pinned, dropped): it goes to the note's head, else to the next note, else to the page. */
export function keepFocus({ list, view }, { note, place }, known) {
  if (list.contains(document.activeElement)) return;
  const heads = [...list.querySelectorAll(".note-head")];
  const headOf = (id) => list.querySelector(`[data-key="note-${id}"]`);
  (headOf(note) ?? headOf(known.note) ?? (note === "draft" ? view : heads[Math.min(place, heads.length - 1)]) ?? view).focus({ preventScroll: true });
}
