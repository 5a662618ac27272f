import { addPanel, dropPanel } from "../api/pages.js";
import { attempt, say } from "../elements/slips.js";
import { closeEditor, openEditor } from "./script_write.js";

/** What is done to the script's parts. @param {() => Promise<any>} load reads all anew */
export function deedsOn(state, list, load) {
  const { known } = state;
  const writeButtons = () => /** @type {HTMLElement[]} */ ([...list.querySelectorAll('[data-key^="write-"]')]);
  const buttonOf = (name) => writeButtons().find((one) => one.dataset.key === `write-${name}`);

  /**
   * Puts two fields in the place of a part's words; what was written elsewhere is kept first.
   * @param {{row: any, typed: any}} [left] what was written before and not kept, and on which row
   */
  async function write(page, kind, { id }, left) {
    if (!(await closeEditor())) return;
    await drawn();
    const name = `${kind}-${id}`;
    const place = list.querySelector(`[data-part="${name}"] .script-words`);
    const row = left?.row ?? known[kind].find((one) => one.id === id);
    if (!place || !row) return;
    const close = async (changes) => {
      const turns = { ...known.turns, [page.id]: (known.turns[page.id] ?? 0) + 1 };
      state.set({ ...changes, turns });
      await drawn();
      buttonOf(name)?.focus();
    };
    openEditor(place, { page, kind, row, typed: left?.typed }, {
      // What was read while it was written may be newer.
      kept: (newest) => close({ [kind]: known[kind].map((one) => (one.id === id && one.version <= newest.version ? { ...one, ...newest } : one)) }),
      left: (on, typed) => {
        close({});
        if (Object.keys(typed).length) say("What you wrote was left.", { way: ["Write on", () => write(page, kind, { id }, { row: on, typed })] });
      },
      next: async () => {
        await drawn();
        writeButtons()[writeButtons().indexOf(/** @type {HTMLElement} */ (buttonOf(name))) + 1]?.click();
      },
    });
  }

  async function add(page) {
    if (!(await closeEditor())) return;
    const panel = await attempt(() => addPanel(page.id, {}));
    if (!panel) return;
    state.set({ panels: [...known.panels, panel] });
    write(page, "panels", panel);
  }

  async function drop(panel) {
    if (!(await closeEditor())) return;
    const { happens, said } = panel;
    if (!(await attempt(() => dropPanel(panel)))) return;
    await load();
    if (happens || said) say(`Panel ${panel.order} is taken out.`, { way: ["Undo", () => attempt(() => addPanel(panel.page, { happens, said })).then(load)] });
  }

  return { write, add, drop };
}

/** What changed is shown at the end of a turn. */
const drawn = () => new Promise((done) => requestAnimationFrame(done));
