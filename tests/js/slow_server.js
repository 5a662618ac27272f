/** A server whose answers are let go one by one, in any order. @param {import("node:test").TestContext} t */
export function slowServer(t) {
  /** @type {{address: string, answer: (body: any) => void}[]} */
  const asked = [];
  t.mock.method(globalThis, "fetch", (address) => new Promise((resolve) => {
    asked.push({ address, answer: (body) => resolve(new Response(JSON.stringify(body), { headers: { "Content-Type": "application/json" } })) });
  }));
  return asked;
}
