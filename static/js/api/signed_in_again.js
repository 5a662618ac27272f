import { Problem, call } from "./http.js";

/** This page's writes go on under the sign-in that holds now, if the same person signed in. Raises Problem where it was another. */
export async function takeToken() {
  const meta = document.querySelector('meta[name="csrf-token"]');
  const now = await call("GET", "/me");
  if (String(now.id) !== meta.dataset.person) {
    throw new Problem({ detail: `${now.name} is signed in in this browser now, and this page is not theirs. Sign in as yourself in another tab, then send it once more.` }, 403);
  }
  meta.content = document.cookie.match(/(?:^|; )csrftoken=([^;]+)/)?.[1] ?? meta.content;
}
