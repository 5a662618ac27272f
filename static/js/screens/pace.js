/** All stands in the page, and prints as it stands. */
document.getElementById("print")?.addEventListener("click", () => print());
