/** What a change of an assignment does to what is handed in already. */

/** Whether some stage is due later than before, or there is more grace. @param {any} one as it was @param {any} fields as it is to be */
export function givesTime(one, fields) {
  const due = new Map(one.stages.map((stage) => [stage.stage, Date.parse(stage.due_at)]));
  return fields.grace_minutes > one.grace_minutes || fields.stages.some((stage) => Date.parse(stage.due_at) > due.get(stage.stage));
}

/** How many hand-ins that were late are so no more. @param {any[]} before rows of the table @param {any[]} after */
export function madeInTime(before, after) {
  const late = new Map(after.flatMap(({ work, stages }) => stages.map((one) => [`${work} ${one.stage}`, one.minutes_late > 0])));
  return before.flatMap(({ work, stages }) => stages.filter((one) => one.minutes_late > 0 && late.get(`${work} ${one.stage}`) === false)).length;
}
