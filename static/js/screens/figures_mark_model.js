/** Figures being marked: crown, then soles, and who it is, before or after. Pure; nothing here touches the page or the server. */

/** Marks that may follow the first two, in the order in which they tell most. */
export const FURTHER = [
  ["chin", "Chin"], ["eyes", "Eyes"], ["shoulder", "Shoulders"], ["navel", "Navel"], ["crotch", "Crotch"], ["knee", "Knees"],
  ["head-left", "Side of the head, left"], ["head-right", "Side of the head, right"],
  ["shoulder-left", "Shoulder, left"], ["shoulder-right", "Shoulder, right"],
];

export const begun = (revision, cast, figures, middle = [0.5, 0.5]) =>
  ({ revision, cast, figures, character: null, crown: null, sole: null, doubts: {}, chosen: null, further: "", closeUp: "", cursor: middle, proposals: [], answered: [], asked: null });

export const chosenOf = ({ figures, chosen }) => figures.find((figure) => figure.id === chosen) ?? null;
export const nameOf = ({ cast }, character) => cast.find((one) => one.id === character)?.name ?? "nobody";
export const byKey = ({ cast }, key) => cast.find((one) => one.key === key.toLowerCase()) ?? null;

/** What the next point would be. */
export function nextMark(marking) {
  if (chosenOf(marking) && marking.closeUp) return marking.closeUp;
  if (chosenOf(marking) && marking.further) return marking.further;
  if (!marking.crown) return "crown";
  return marking.sole ? "who" : "sole";
}

/** A point was set. With a further mark in hand it belongs to the chosen figure, and the caller keeps it there. */
export function withPoint(marking, point, doubt) {
  const next = nextMark(marking);
  if (next === "crown") return { ...marking, crown: point, doubts: { crown: doubt }, chosen: null, further: "", asked: null };
  if (next === "sole") return { ...marking, sole: point, doubts: { ...marking.doubts, sole: doubt } };
  return marking;
}

export const withCharacter = (marking, character) => ({ ...marking, character });

/** What is sent once crown, soles and character are known; else null. */
export const bodyOf = ({ crown, sole, doubts, character }) => (crown && sole && character ? { character, marks: { crown, sole }, doubts } : null);

let sent = 0;

/** A figure that the server does not know yet, by a name of its own. */
export const onItsWay = (body) => ({ pose: "standing", ground_offset_m: null, ...body, id: `on its way ${++sent}` });

const isOnItsWay = ({ id }) => typeof id === "string";

/** The figure is at hand, and the next one may be marked, of the same character. */
export const kept = (marking, figure) =>
  ({ ...marking, figures: [...marking.figures.filter((one) => one.id !== figure.id), figure], chosen: figure.id, crown: null, sole: null });

/** What was sent was refused: it is under way as it was. */
export const begunAgain = (marking, id, { crown, sole, doubts }) => ({ ...without(marking, id), crown, sole, doubts });

/** An answer that comes late takes nothing else in hand; a figure whose marks were lost may be marked again by it. @param {any} [id] under which it was shown, if it was on its way */
export const replaced = (marking, figure, id = figure.id) => ({
  ...marking,
  figures: marking.figures.filter((one) => one.id === id || one.id !== figure.id).map((one) => (one.id === id ? figure : one)),
  chosen: marking.chosen === id ? figure.id : marking.chosen,
});

/** As they were read, and those that are on their way. */
export const read = (marking, figures) => ({ ...marking, figures: [...figures, ...marking.figures.filter(isOnItsWay)] });

export function without(marking, id) {
  const figures = marking.figures.filter((one) => one.id !== id);
  return marking.chosen === id ? { ...marking, figures, chosen: null, further: "", closeUp: "" } : { ...marking, figures };
}

/** The last thing that was begun is put away; null where nothing was. */
export function stepBack(marking) {
  if (marking.asked) return { ...marking, asked: null };
  if (marking.sole) return { ...marking, sole: null };
  if (marking.crown) return { ...marking, crown: null };
  return marking.chosen ? { ...marking, chosen: null, further: "" } : null;
}

export const moved = (marking, [dx, dy]) => ({ ...marking, cursor: [within(marking.cursor[0] + dx), within(marking.cursor[1] + dy)] });

const within = (value) => Math.min(1, Math.max(0, value));

/** Where a figure's soles are: marked as one, or as two of which the middle counts. */
export function endsOf({ marks }) {
  const sole = marks.sole ?? middle([marks["sole-left"], marks["sole-right"]].filter(Boolean));
  return marks.crown && sole ? [marks.crown, sole] : null;
}

const middle = (points) => (points.length ? [0, 1].map((i) => points.reduce((sum, point) => sum + point[i], 0) / points.length) : null);

/** What to do now, in one line. */
export function says(marking) {
  const next = nextMark(marking);
  if (!marking.cast.length) return "The cast is empty. Add its characters on the Line-up first.";
  if (marking.closeUp) return closeUpSays(next, nameOf(marking, chosenOf(marking)?.character));
  if (next === "who") return "Who is it? Press the character's key, or choose it above.";
  if (next === "crown") return `Set the crown of ${marking.character ? nameOf(marking, marking.character) : "a figure"}, under hair and hat: click or tap it, or move the cross by arrow keys and press Enter.`;
  if (next === "sole") return "Now the soles: where it stands.";
  return `Set this mark of ${nameOf(marking, chosenOf(marking).character)}: ${FURTHER.find(([name]) => name === next)?.[1] ?? next}.`;
}

const closeUpSays = (next, name) => (next === "crown"
  ? `Close up: set the crown of ${name} exactly, where the model sheet has it. Click it, or move the cross by arrow keys or a finger, then set it by Enter or the button.`
  : `And now the chin of ${name}. Its head is counted from these two.`);
