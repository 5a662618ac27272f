/** The list prints as it stands; other choices come by the form, without a script. */
document.getElementById("print").addEventListener("click", () => print());
