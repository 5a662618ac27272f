/** The marks of a work as the fields of a form: by each criterion a level, "" for none, and a word on it. */

/** @param {{id: number}[]} rubric @param {{criterion: number, level: number|null, comment: string}[]} marks @returns {Record<string, string>} */
export function fieldsOfMarks(rubric, marks) {
  const given = new Map(marks.map((mark) => [mark.criterion, mark]));
  return Object.fromEntries(rubric.flatMap(({ id }) => [
    [`level-${id}`, String(given.get(id)?.level ?? "")], [`comment-${id}`, given.get(id)?.comment ?? ""],
  ]));
}

/** What is to be sent of the fields that were changed; of each criterion nothing else. @param {Record<string, string>} changed */
export function marksOf(changed) {
  const marks = new Map();
  for (const [name, value] of Object.entries(changed)) {
    const [part, id] = name.split("-");
    marks.set(id, { criterion: Number(id), ...marks.get(id), [part]: part === "level" ? levelOf(value) : value });
  }
  return [...marks.values()];
}

const levelOf = (value) => (value === "" ? null : Number(value));
