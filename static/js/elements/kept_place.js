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

/** Where a reply is being typed, all is drawn anew but its field. */
export function keptWhileAnswered(answering, fresh) {
  const [open, drawn] = [answering, fresh].map((item) => item?.querySelector(".note-open"));
  if (answering?.dataset.note !== fresh.dataset.note || !drawn?.querySelector(".reply-field")) return fresh;
  for (const { name, value } of fresh.attributes) answering.setAttribute(name, value);
  answering.firstChild.replaceWith(fresh.firstChild);
  layAround(open.querySelector(".reply-field"), [...drawn.children].map((part) => (part.matches(".reply-field") ? open.querySelector(".reply-field") : part)));
  return answering;
}

/** New company for an element that stays where it is, so that nobody who types in it is disturbed. */
export function layAround(stays, items) {
  for (const other of [...stays.parentElement.children]) if (other !== stays) other.remove();
  const at = items.indexOf(stays);
  stays.before(...items.slice(0, at));
  stays.after(...items.slice(at + 1));
}
