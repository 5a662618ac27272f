/** A roster's file as text: UTF-8, UTF-16 with its mark, or, where it is neither, as many spreadsheets write it.
 * `isGuessed`: any bytes can be read so, and names are to be looked at.
 * @param {ArrayBuffer} bytes @returns {{ text: string, isGuessed: boolean }} */
export function rosterText(bytes) {
  const [first, second] = new Uint8Array(bytes);
  if (first === 0xff && second === 0xfe) return { text: new TextDecoder("utf-16le").decode(bytes), isGuessed: false };
  try {
    return { text: new TextDecoder("utf-8", { fatal: true }).decode(bytes), isGuessed: false };
  } catch {
    return { text: new TextDecoder("windows-1252").decode(bytes), isGuessed: true };
  }
}
