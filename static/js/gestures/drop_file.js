import { listen } from "./pan_zoom.js";

/**
 * Files dropped on an element.
 * @param {HTMLElement} target
 * @param {(files: File[]) => void} onFiles
 */
export function dropFiles(target, onFiles) {
  const carriesFiles = (event) => [...(event.dataTransfer?.types ?? [])].includes("Files");
  const onOver = (event) => {
    if (!carriesFiles(event)) return;
    event.preventDefault();
    target.classList.add("drop-here");
  };
  const onLeave = (event) => {
    if (!target.contains(event.relatedTarget)) target.classList.remove("drop-here");
  };
  const onDrop = (event) => {
    if (!carriesFiles(event)) return;
    event.preventDefault();
    event.stopPropagation();
    target.classList.remove("drop-here");
    onFiles([...event.dataTransfer.files]);
  };
  return listen(target, { dragover: onOver, dragleave: onLeave, drop: onDrop });
}
