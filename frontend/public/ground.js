// The chosen ground, before anything is painted: the app itself comes later and would flash the other one.
// Twin of `src/lib/session/theme.svelte.ts`; the content security policy allows no script inside the page.
const chosen = localStorage.getItem("lampledger-look");
if (chosen && chosen !== "auto") document.documentElement.dataset.theme = chosen;
