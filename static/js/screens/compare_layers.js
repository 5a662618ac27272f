import { listen } from "../gestures/pan_zoom.js";
import { layersOf } from "./compare_facts.js";

/** What lies on top, and how much of it is seen. */
export function showLayers(state, { root, panes, layers, edge }) {
  state.on(["mode", "isFlipped", "fade", "edge"], (known) => {
    const seen = layersOf(known);
    root.dataset.mode = known.mode;
    // Beside one another, each sheet has a pane of its own.
    const home = known.mode === "side" ? panes[1] : panes[0];
    if (layers.newer.parentElement !== home) home.insertBefore(layers.newer, home.children[1] ?? null);
    for (const name of ["older", "newer", "differs"]) {
      layers[name].style.opacity = String(seen[name]);
      layers[name].style.visibility = seen[name] ? "visible" : "hidden";
    }
    layers.newer.style.clipPath = seen.clip ? `inset(0 0 0 ${seen.clip * 100}%)` : "";
    edge.style.left = `${known.edge}%`;
    edge.hidden = known.mode !== "split" || known.isFlipped;
  });
  dragEdge(state, panes[0], edge);
}

function dragEdge(state, pane, edge) {
  let isHeld = false;
  listen(edge, {
    pointerdown: (event) => {
      event.stopPropagation();
      isHeld = true;
      edge.setPointerCapture(event.pointerId);
    },
    pointermove: (event) => {
      if (!isHeld) return;
      const box = pane.getBoundingClientRect();
      state.set({ edge: Math.min(100, Math.max(0, ((event.clientX - box.left) / box.width) * 100)) });
    },
    pointerup: () => {
      isHeld = false;
    },
    pointercancel: () => {
      isHeld = false;
    },
  });
}
