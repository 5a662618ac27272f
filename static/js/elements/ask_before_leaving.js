/**
 * As long as leaving the page would lose something, the browser asks before it does.
 * @param {() => any} isLost whether something would be lost now
 * @returns {() => void} for when it is past
 */
export function askBeforeLeaving(isLost) {
  const ask = (event) => {
    if (isLost()) event.preventDefault();
  };
  addEventListener("beforeunload", ask);
  return () => removeEventListener("beforeunload", ask);
}
