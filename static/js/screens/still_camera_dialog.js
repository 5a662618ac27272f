import { dropStillCamera, giveStillCamera, sendStillScene } from "../api/boards.js";
import { openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { h, word } from "../elements/h.js";
import { attempt, say } from "../elements/slips.js";
import { partsFromLines } from "./still_levels.js";

const number = (name, camera, props = {}) => h("input", { type: "number", step: "any", inputmode: "decimal", name, value: shown(name, camera), ...props });
const DIGITS = { focal_px: 1 };
/** Rounded, as nobody typed it with all the digits of a scene. */
const shown = (name, camera) => (Number.isFinite(camera?.[name]) ? String(Number(camera[name].toFixed(DIGITS[name] ?? 2))) : "");
const ANGLES = [["pitch_deg", "Pitch, °", "+ looks up"], ["roll_deg", "Roll, °", "+ where the eye level falls to the right"], ["yaw_deg", "Yaw, °", "Against the set; + to the right"]];

/** The exact camera of a still: read from its scene, or typed in. */
export function stillCameraDialog(still, done) {
  openDialog(`The camera of ${still.title}`, (close) => {
    const finish = (row) => {
      if (!row) return;
      close();
      if (partsFromLines(row)) say(partsFromLines(row));
      done();
    };
    return [
      h("p", {}, shownBy(still)),
      fromScene(still, finish),
      typedIn(still, finish),
      still.camera && h("div", { class: "buttons" }, word("Take it back: let the lines show the camera", () => attempt(() => dropStillCamera(still.id)).then(finish))),
    ];
  });
}

function fromScene(still, finish) {
  const file = h("input", { type: "file", accept: ".gltf,.glb,model/gltf+json,model/gltf-binary", required: true });
  return form({}, ({ camera }) => attempt(() => sendStillScene(still.id, file.files[0], camera)).then(finish),
    h("h3", {}, "From its scene"),
    h("div", { class: "pair" }, field("glTF 2.0 file", file), field("Which camera", h("input", { name: "camera", maxlength: "200" }), "Its name, where the file has several.")),
    h("div", { class: "buttons" }, h("button", { class: "button" }, "Read the camera")));
}

function typedIn(still, finish) {
  const { camera } = still;
  const exact = (name, text) => (text === shown(name, camera) ? camera[name] : Number(text));
  return form({}, (values) => attempt(() => giveStillCamera(still.id, filled(values, exact))).then(finish),
    h("h3", {}, "Typed in"),
    h("div", { class: "pair" },
      field("Vertical angle of view, °", number("yfov_deg", null, { min: "0.1", max: "179" }), "Either this or the focal length."),
      field("Focal length, px", number("focal_px", camera, { min: "1" })),
      ...ANGLES.map(([name, words, hint]) => field(words, number(name, camera), hint)),
      field("Eye over the floor, m", number("eye_height_m", camera, { min: "0.01", max: "1000" }))),
    h("div", { class: "buttons" }, h("button", { class: "button" }, "Keep this camera")));
}

/** What was not touched stays as exact as it was. */
const filled = (values, exact) => Object.fromEntries(Object.entries(values).filter(([, text]) => text !== "").map(([name, text]) => [name, exact(name, text)]));

// Next to nothing is level, to neither side.
const angle = (degrees) => `${(Math.round(10 * degrees) / 10 || 0).toFixed(1)}°`;

/** What is known of the camera, in words. @param {{perspective: any, lines: any}} still */
export function shownBy(still) {
  const { perspective } = still;
  if (perspective?.reason) return `Its lines show no camera. ${perspective.reason}`;
  if (!perspective?.vanishing_points) return "Its camera is not known.";
  const { focal_px, pitch_deg, roll_deg, eye_height_m, is_exact } = perspective;
  const known = [
    focal_px && `focal length ${Math.round(focal_px)} px`,
    pitch_deg !== null && `pitch ${angle(pitch_deg)}`,
    roll_deg !== null && `roll ${angle(roll_deg)}`,
    eye_height_m && `eye ${eye_height_m.toFixed(2)} m over the floor`,
  ].filter(Boolean);
  return [`${is_exact ? "Exact camera" : "As its lines show"}: ${known.join(", ")}.`, partsFromLines(still)].filter(Boolean).join(" ");
}
