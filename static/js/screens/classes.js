import { addClass } from "../api/classes.js";
import { classDialog } from "./class_dialog.js";

document.getElementById("new-class")?.addEventListener("click", () => classDialog("A new class", {}, "Make the class", async (fields) => {
  const made = await addClass(fields);
  location.assign(`/classes/${made.id}`);
}));
