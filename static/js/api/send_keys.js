import { newKey } from "./http.js";

/**
 * The key under which one file is sent to one place: the same until it has arrived, also after the tab was closed in between, so that a
 * file that is sent again after a broken line arrives once.
 */
const NAME = "underblue keys of uploads";
// As long as the server remembers a key.
const KEPT_MS = 2 * 24 * 3600 * 1000;
let atHand = {};

/** @param {string} path @param {Record<string, any>} fields @returns {string} what is sent where, in a few words */
export const nameOfSending = (path, fields) =>
  JSON.stringify([path, ...Object.entries(fields).filter(([, value]) => value !== "" && value != null).map(([name, value]) => [name, inWords(value)])]);

const inWords = (value) => (typeof value === "object" && "size" in value ? [value.name ?? "", value.size, value.lastModified ?? 0] : String(value));

/** @param {string} sending */
export function keyOfSending(sending, now = Date.now()) {
  const keys = Object.fromEntries(Object.entries(read()).filter(([, { at }]) => now - at < KEPT_MS));
  keys[sending] ??= { key: newKey(), at: now };
  write(keys);
  return keys[sending].key;
}

/** It has arrived: the same file sent once more is meant to arrive once more. */
export function hasArrived(sending) {
  const { [sending]: _, ...others } = read();
  write(others);
}

function read() {
  try {
    return { ...atHand, ...JSON.parse(localStorage.getItem(NAME) ?? "{}") };
  } catch {
    return atHand;
  }
}

function write(keys) {
  atHand = keys;
  try {
    localStorage.setItem(NAME, JSON.stringify(keys));
  } catch {
    // Private windows keep nothing: then a key lives as long as the screen.
  }
}
